package recording

// sum adds numbers with the rounding error of every addition kept beside (Knuth,
// The Art of Computer Programming, volume 2, section 4.2.2, theorem B): the error
// of the result does not grow with the number of terms.
type sum struct{ total, lost float64 }

func (s *sum) add(x float64) {
	t := s.total + x
	b := t - s.total
	s.lost += (s.total - (t - b)) + (x - b)
	s.total = t
}

func (s *sum) value() float64 { return s.total + s.lost }
