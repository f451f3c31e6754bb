package handback

// Act implements place.Acting: ready first, then collected.
func (s *Screen) Act() {
	switch {
	case s.c == nil || s.c.Visit.Closed():
	case s.c.Visit.Ready.IsZero():
		s.Ready()
	default:
		s.Collect()
	}
}
