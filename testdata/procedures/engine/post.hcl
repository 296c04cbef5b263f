# A post is packed until a gauge reads nothing: a correction, what it spoils,
# and a concession.

procedure "post" {
  title    = "Set a post to height"
  machine  = "any"
  revision = "1"
  purpose  = "Read how high the post stands and move it."
  decision = "guarded"
}

given "height" {
  ask   = "Post: height"
  unit  = "mm"
  range = [mm(10), mm(100)]
}

instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
}
instrument "dial" {
  kind       = "dial indicator"
  resolution = um(10)
  error      = um(5)
  turn       = mm(1)
}

caution "hands" {
  text   = "Keep your hands clear of the screw."
  hazard = "crushing"
  source = "trade practice"
}

step "datum" {
  title   = "Read the datum"
  lasting = true
  reading "zero" {
    ask      = "Datum: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-50), um(50)]
  }
}

step "clamp" {
  title   = "Clamp the post"
  caution = [caution.hands]
  do      = ["Clamp it."]
}

step "look" {
  title = "Read the post"
  needs = [step.clamp]
  confirm "wiped" { ask = "Is it wiped?" }
  reading "high" {
    each "side" { of = ["left", "right"] }
    ask      = "Post, ${each.side}: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-500), um(500)]
  }
  result "off" {
    title    = "Post above the datum"
    value    = mean(reading.high) - reading.zero
    unit     = "um"
    positive = "high"
  }
  gate "level" {
    title     = "The post stands at its height"
    of        = result.off
    within    = plus_minus(um(10) * given.height / mm(50))
    source    = "shop rule"
    if_failed = [correction.move, concession]
  }
}

step "rub" {
  title = "Look at the print"
  reading "mark" {
    ask    = "Where did it mark?"
    choose = ["all", "ends"]
  }
  gate "bears" {
    title     = "It bears all over"
    holds     = reading.mark == "all"
    source    = "shop rule"
    if_failed = [correction.wipe, reject]
  }
}

step "last" {
  title = "Read the clearance"
  reading "gap" {
    ask   = "Gap"
    unit  = "um"
    with  = instrument.gauge
    range = [um(0), um(100)]
  }
  gate "room" {
    title     = "There is room"
    of        = reading.gap
    at_least  = um(5)
    source    = "shop rule"
    if_failed = [reject]
  }
}

correction "move" {
  title    = "Move the post"
  amount   = -result.off
  unit     = "um"
  positive = "up"
  negative = "down"
  do       = ["Slacken, move, clamp, read."]
  attempts = 3
  moved {
    ask  = "Post: movement after clamping, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.off
    by     = amount
  }
}
correction "wipe" {
  title    = "Clean it and blue it again"
  do       = ["Wipe, blue thinner."]
  disturbs = [gate.level]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}
