procedure "stack" {
  title    = "Measure a stack and how far it leans"
  machine  = "any"
  revision = "1"
  purpose  = "Show which of two instruments is too coarse."
}

instrument "micrometer" {
  kind          = "outside micrometer"
  resolution    = um(1)
  error         = um(2)
  repeatability = um(1)
  turn          = mm(0.5)
}

instrument "lever" {
  kind          = "lever indicator"
  resolution    = um(2)
  error         = um(4)
  repeatability = um(0.5)
  turn          = mm(0.2)
}

step "sideways" {
  title = "Lean of the stack"

  reading "lean" {
    ask   = "Top of the stack: leans by"
    unit  = "um"
    with  = instrument.lever
    range = [um(-50), um(50)]
  }
}

step "upright" {
  title = "Height of the stack"

  reading "height" {
    ask   = "Stack: height"
    unit  = "mm"
    with  = instrument.micrometer
    range = [mm(11), mm(12)]
  }

  gate "tall" {
    title     = "The stack is as tall as drawn"
    of        = reading.height + reading.lean
    within    = between(mm(11.47), mm(11.53))
    source    = "made up"
    if_failed = [reject]
  }
}
