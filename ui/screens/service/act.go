package service

// Act implements place.Acting: it goes on to the next step of the visit.
func (s *Screen) Act() { s.GoOn() }
