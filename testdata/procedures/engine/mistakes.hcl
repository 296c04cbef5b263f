# Further readings whose data can show a common mistake: a quill swept by an indicator
# on an arm, a foot that is bolted down, two planes of one bar, what a bar runs out by.

procedure "mistakes" {
  title    = "Sweep a quill, bolt a foot down, read a bar"
  machine  = "any"
  revision = "1"
  purpose  = "Show what readings look like besides what they say."
  decision = "simple"
}

instrument "dial" {
  kind          = "dial indicator"
  resolution    = um(1)
  error         = um(2)
  zero          = um(0)
  repeatability = um(1)
  turn          = mm(1)
}

given "part" {
  ask    = "What is measured"
  choose = ["quill", "quill_with_sag", "foot", "planes", "runout"]
}

given "sag" {
  ask   = "Arm of the indicator: hangs by"
  unit  = "um"
  range = [um(0), um(100)]
  when  = given.part == "quill_with_sag"
}

step "the_quill" {
  title = "Sweep the quill"
  when  = given.part == "quill" || given.part == "quill_with_sag"
  reading "swept" {
    each "clock" { of = ["12", "3", "6", "9"] }
    ask      = "Quill at ${each.clock} o'clock: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "pushed in"
    range    = [um(-500), um(500)]
  }
}

step "the_quill_alone" {
  title = "How high it stands"
  when  = given.part == "quill"
  gate "height" {
    title     = "The quill stands high, never low"
    of        = (reading.swept["12"] - reading.swept["6"]) / 2
    within    = between(um(0), um(40))
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "the_quill_less_sag" {
  title = "How high it stands, less the sag"
  when  = given.part == "quill_with_sag"
  gate "true_height" {
    title     = "The quill stands high, never low"
    of        = (reading.swept["12"] - reading.swept["6"]) / 2 - given.sag
    within    = between(um(0), um(40))
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "the_foot" {
  title = "Bolt the foot down"
  when  = given.part == "foot"
  reading "bolted" {
    each "state" { of = ["slack", "tight"] }
    ask      = "Bar over the foot, bolts ${each.state}: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "up"
    range    = [um(-500), um(500)]
  }
  result "shift" {
    title    = "Bolting down shifts the bar"
    value    = reading.bolted.tight - reading.bolted.slack
    unit     = "um"
    positive = "up"
  }
  gate "still" {
    title     = "Bolting down shifts nothing"
    of        = result.shift
    within    = plus_minus(um(5))
    source    = "shop rule"
    if_failed = [correction.find_pad, reject]
  }
}

step "the_planes" {
  title = "Read the bar in two planes"
  when  = given.part == "planes"
  reading "front" {
    ask      = "Front: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "towards the operator"
    range    = [um(-500), um(500)]
  }
  reading "top" {
    ask      = "Top: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "up"
    range    = [um(-500), um(500)]
  }
  gate "in_line" {
    title     = "The bar lies in line, both planes together"
    of        = hypot(reading.front, reading.top)
    at_most   = um(20)
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "the_runout" {
  title = "Turn the spindle and read the bar in its bore"
  when  = given.part == "runout"
  reading "bar" {
    each "station" { of = ["near", "far"] }
    each "angle" { of = ["0", "180"] }
    ask      = "Bar, ${each.station}, spindle at ${each.angle}°: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "towards the operator"
    range    = [um(-500), um(500)]
  }
  gate "true" {
    title     = "The bar runs true at the near station"
    of        = abs(reading.bar.near["0"] - reading.bar.near["180"])
    at_most   = um(50)
    source    = "shop rule"
    if_failed = [reject]
  }
}

correction "find_pad" {
  title    = "Tighten screw by screw and find the pad"
  do       = ["Slacken all, tighten one after another, and read after each."]
  attempts = 3
}

signoff "fitter" { title = "Carried out by" }
