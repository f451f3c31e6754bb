package inspection

// Says implements widgets.Saying.
func (k *padKey) Says() string { return "answer: " + k.words }
