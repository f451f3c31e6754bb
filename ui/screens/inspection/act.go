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

// AtWork tells which check is at work, of what kind, and its unit.
func (s *Screen) AtWork() (check, kind, unit string) {
	if p, ok := s.line(); ok {
		return p.Check.ID, string(p.Check.Kind), p.Check.Unit
	}
	return "", "", ""
}
