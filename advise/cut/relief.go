package cut

// relief is how far along the cloth the parts laid so far reach, by the two sides of each
// column, and what is asked of many of its heights at once.
type relief struct {
	at   []float64
	most []float64 // greatest of a stretch that begins here
	sums []float64 // of all before
	room []float64
}

func newRelief(n int) relief {
	return relief{at: make([]float64, n), most: make([]float64, n), sums: make([]float64, n+1), room: make([]float64, n)}
}

func (s *relief) clear() {
	clear(s.at)
	clear(s.most)
	clear(s.sums)
}

// raise lays a part of these heights on it, from height k on, its bottom at y.
func (s *relief) raise(k int, high []float64, y float64) {
	at := s.at[k:][:len(high)]
	for c, h := range high {
		if to := y + h; to > at[c] {
			at[c] = to
		}
	}
	sum := s.sums[k]
	for i, h := range s.at[k:] {
		sum += h
		s.sums[k+1+i] = sum
	}
	s.look(max(0, k-stretch+1), k+len(high))
}

// look finds the greatest of each stretch that begins from one height to another: of two,
// of four, and so on.
func (s *relief) look(from, to int) {
	m := append(s.room[:0], s.at[from:min(to+stretch, len(s.at))]...)
	for w := 1; w < stretch; w *= 2 {
		for i := range max(0, len(m)-w) {
			if m[i+w] > m[i] {
				m[i] = m[i+w]
			}
		}
	}
	copy(s.most[from:to], m)
}
