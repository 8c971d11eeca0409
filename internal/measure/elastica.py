"""Times one fall of a strip by a general solver: SciPy's solve_bvp on the heavy
elastica, theta'' = -(1 - s) (L/c)^3 cos(theta), clamped at one end and free at the
other, as fibres/hang solves it. Prints a line of Markdown; needs SciPy."""
import statistics
import time

import numpy as np
from scipy.integrate import solve_bvp

for ratio in (0.5, 2.0, 5.0):
    load = ratio**3
    took = []
    for _ in range(7):
        s = np.linspace(0, 1, 41)
        start = time.perf_counter()
        got = solve_bvp(lambda s, y: np.vstack((y[1], -(1 - s) * load * np.cos(y[0]))), lambda a, b: np.array([a[0], b[1]]), s, np.zeros((2, s.size)), tol=1e-6, max_nodes=5000)
        took.append(time.perf_counter() - start)
    print(f"- L/c = {ratio}: {1e6 * statistics.median(took):.0f} µs by the general solver, " + ("converged" if got.success else "not converged") + "; ours stand beside in `go test -bench Hang ./fibres/hang`.")
