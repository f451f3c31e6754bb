package inspection

// Act implements place.Acting: it goes to the next stage, or on to Decide when
// this was the last.
func (s *Screen) Act() {
	if s.kase == nil {
		return
	}
	if st, ok := s.nextStage(); ok {
		if s.commit() {
			s.keepNote()
			s.toStage(st)
		}
		return
	}
	s.toDecide()
}

// Ended tells whether nothing of this stage is open any more.
func (s *Screen) Ended() bool { return s.ended }
