package engine_test

import "testing"

// What is noted as found is in the way of nothing.
func TestRule33NotedGoesOn(t *testing.T) { scenario(t, "noted-as-found") }
