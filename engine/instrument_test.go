package engine_test

import "testing"

func TestMeasureRule13TooCoarseInstrument(t *testing.T) { scenario(t, "measure-13-coarse") }
func TestMeasureRule20UnsuitedInstrument(t *testing.T)  { scenario(t, "measure-20-instruments") }
func TestMeasureRule20ChangeOfInstrument(t *testing.T)  { scenario(t, "measure-20-changed") }
