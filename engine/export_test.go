package engine

// Afresh returns the state without anything that it has worked out and kept.
func (s *State) Afresh() *State {
	t := s.clone()
	t.forget()
	return t
}
