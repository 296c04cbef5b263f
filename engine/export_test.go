package engine

// Afresh returns the state without anything that it has worked out and kept.
func (s *State) Afresh() *State {
	t := s.clone()
	t.forget()
	t.chronicle = nil
	return t
}

// Solved returns how many values were worked out with how well they are known.
func (pl *Plan) Solved() int { return len(pl.solved.known) }
