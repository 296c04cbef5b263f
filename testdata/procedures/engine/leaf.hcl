# What is typed in from a work sheet: a wait, a step that does not last, a set, a
# limit that can only be conceded, and one that is corrected.

procedure "leaf" {
  title    = "A leaf of a hinge lies flat"
  machine  = "any"
  revision = "1"
  purpose  = "Type a work sheet in."
  decision = "simple"
}

instrument "dial" {
  kind       = "dial indicator"
  resolution = um(1)
  error      = um(1)
}

caution "hot" {
  text   = "The leaf is hot."
  hazard = "hot"
  source = "derived here"
}

step "warm" {
  title    = "Warm the leaf"
  caution  = [caution.hot]
  lasting  = true
  good_for = minutes(30)
  wait "soak" {
    why      = "it is to be warm through"
    at_least = hours(2)
  }
  reading "heat" {
    ask   = "Leaf: temperature"
    unit  = "celsius"
    range = [celsius(10), celsius(90)]
  }
  gate "warm_enough" {
    title     = "The leaf is warm"
    of        = reading.heat
    at_least  = celsius(50)
    source    = "derived here"
    if_failed = [concession]
  }
}

step "read" {
  title = "Read it, ${each.side} side"
  needs = [step.warm]
  each "side" { of = ["upper", "lower"] }
  reading "height" {
    each "corner" { of = ["left", "right"] }
    ask     = "${each.side}, ${each.corner}: height"
    unit    = "um"
    with    = instrument.dial
    closure = um(2)
    range   = [um(-90), um(90)]
  }
}

step "judge" {
  title = "Both sides"
  result "bend" {
    title    = "Right less left"
    value    = reading.height.upper.right - reading.height.upper.left + reading.height.lower.right - reading.height.lower.left
    unit     = "um"
    positive = "high on the right"
  }
  gate "flat" {
    title     = "The leaf is flat"
    of        = result.bend
    within    = plus_minus(um(20))
    source    = "derived here"
    if_failed = [correction.press, concession]
  }
}

correction "press" {
  title = "Press it"
  do    = ["Press it, and look again."]
}

signoff "fitter" {
  title    = "Measured by"
  concedes = true
}
