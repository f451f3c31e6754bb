package window

// Status is what the status line tells.
func (f *Frame) Status() string { return f.status.Text() }
