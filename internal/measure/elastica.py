"""Times one fall of a strip by a general solver: SciPy's solve_bvp on the heavy
elastica, theta'' = -(1 - s) (L/c)^3 cos(theta), clamped level at one end and free at the
other, as fibres/hang solves it. It starts from a curve that is bent down over some 1 c,
without which it finds no answer for long strips. Prints lines as `go test -bench` does:
elastica.py [runs]; needs SciPy."""
import sys
import time

import numpy as np
from scipy.integrate import solve_bvp


def fall(ratio):
    load = ratio**3
    s = np.linspace(0, 1, 41)
    bent = np.exp(-1.2 * ratio * s)
    start = np.vstack((np.pi / 2 * (1 - bent), np.pi / 2 * 1.2 * ratio * bent))
    return solve_bvp(lambda s, y: np.vstack((y[1], -(1 - s) * load * np.cos(y[0]))), lambda a, b: np.array([a[0], b[1]]), s, start, tol=1e-6, max_nodes=5000)


for _ in range(int(sys.argv[1]) if len(sys.argv) > 1 else 1):
    for ratio in ("0.5", "2", "5"):
        took, n = 0.0, 0
        while took < 0.2:
            began = time.perf_counter()
            got = fall(float(ratio))
            took, n = took + time.perf_counter() - began, n + 1
            if not got.success:
                sys.exit(f"L/c = {ratio}: {got.message}")
        print(f"BenchmarkGeneralSolver/L/c={ratio} {n} {1e9 * took / n:.0f} ns/op {np.degrees(got.y[0, -1]):.6f} tip-deg")
