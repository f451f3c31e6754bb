package dropoff

// Act implements place.Acting: it takes the fork in.
func (s *Screen) Act() { s.Submit() }
