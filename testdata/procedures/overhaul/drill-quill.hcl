procedure "drill-quill" {
  title    = "The quill goes down straight"
  machine  = "bench drill"
  revision = "1"
  purpose  = "Follow the quill on a square, less what the spindle leans."
  decision = "simple"
}

given "lean" {
  title = "Lean of the spindle over its swing"
  unit  = "um"
  from  = accepted["drill-spindle"].result.lean
  fresh = days(60)
}

step "follow" {
  title = "Follow the quill on a square"
  reading "down" {
    ask      = "Quill down: reading on the square"
    unit     = "um"
    with     = instrument.dial
    positive = "away from the column"
    range    = [um(-500), um(500)]
  }
  result "off" {
    title    = "Out of straight"
    value    = reading.down - given.lean
    unit     = "um"
    positive = "away from the column"
  }
  gate "straight" {
    title     = "The quill goes down straight"
    of        = result.off
    within    = plus_minus(um(40))
    source    = "shop rule"
    if_failed = [reject]
  }
}

signoff "fitter" { title = "Carried out by" }
