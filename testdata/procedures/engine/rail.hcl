# A rail is shifted until a gauge reads nothing on it. Everything that a loop of
# correction and measurement can do is in it, with numbers that are done in the
# head: one unit of movement changes the result by one.

procedure "rail" {
  title    = "Set a rail to height"
  machine  = "any"
  revision = "1"
  purpose  = "Read how high the rail stands and shift it until it is level."
  decision = "guarded"
}

given "height" {
  ask   = "Rail: height above the bed"
  unit  = "mm"
  range = [mm(10), mm(100)]
  from  = machine.rail.height
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

step "prepare" {
  title = "Set the gauge to nothing"
  do    = ["Wipe the bed. Set the gauge to nothing on it."]
}

step "look" {
  title = "Read the rail"
  needs = [step.prepare]
  do    = ["Slide the gauge over the rail."]

  confirm "clamped" { ask = "Is the rail clamped?" }
  reading "high" {
    ask      = "Rail: reading, take ${each.take}"
    unit     = "um"
    repeat   = 2
    with     = instrument.gauge
    positive = "rail high"
    range    = [-given.height / 20, given.height / 20]
  }
  reading "mark" {
    ask    = "Blue on the rail: where did it rub off?"
    choose = ["all", "ends", "middle"]
  }

  result "off" {
    title    = "Rail above the datum"
    value    = mean(reading.high)
    unit     = "um"
    positive = "rail high"
  }
  gate "level" {
    title     = "The rail is level"
    of        = result.off
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [correction.shift, correction.pack, concession]
    upstream  = [gate.bears, accepted["bed"]]
  }
  gate "bears" {
    title     = "The rail bears all over"
    holds     = reading.mark == "all"
    source    = "shop rule"
    if_failed = [correction.wipe, reject]
  }
}

correction "shift" {
  title    = "Shift the rail"
  amount   = -result.off
  unit     = "um"
  positive = "up"
  negative = "down"
  do       = ["Slacken, shift, clamp, read."]
  attempts = 3
  moved {
    ask  = "Rail: movement after clamping, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.off
    by     = amount
  }
}

correction "pack" {
  title    = "Pack the rail up"
  when     = result.off < um(-40)
  amount   = -result.off
  unit     = "um"
  positive = "shim under the rail"
  do       = ["Shim under the rail."]
  ledger   = "packing"
  attempts = 2
  should_change {
    result = result.off
    by     = amount
  }
}

correction "wipe" {
  title    = "Clean it and blue it again"
  do       = ["Stone off burrs, wipe, blue thinner."]
  disturbs = [gate.level]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}
