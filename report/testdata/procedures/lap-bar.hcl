procedure "lap-bar" {
  title    = "Lap a bar to within 2 µm"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Lap, let it cool, measure along the bar, dwell where it is fat; stop when the rest is noise."
  decision = "guarded"
}

given "diameter" {
  ask   = "Diameter aimed at"
  unit  = "mm"
  range = [mm(10), mm(60)]
}
given "stations" {
  ask   = "At how many stations?"
  count = true
  range = [5, 11]
}
given "length" {
  ask   = "Length from the first to the last station"
  unit  = "mm"
  range = [mm(50), mm(500)]
}
given "lap_length" {
  ask   = "Length of the lap"
  unit  = "mm"
  range = [mm(10), mm(120)]
}

step "measure" {
  title   = "Measure along the bar"
  spindle = "stopped"
  do      = ["Wash the compound off. Stand the bar beside the comparator."]

  # Over when two readings, five minutes apart, agree.
  wait "cool" {
    why      = "a bar of 25 mm that is 10 kelvin warm reads 2.9 µm large"
    at_least = minutes(5)
    until {
      ask   = "Diameter at the middle"
      unit  = "mm"
      with  = instrument.comparator
      every = minutes(5)
      agree = um(0.5)
      takes = 24 # then the person decides, with a reason
    }
  }

  reading "bar" {
    ask     = "Diameter at ${each.station} from the first station"
    unit    = "mm"
    along   = stations(mm(0), given.length, given.stations)
    repeat  = 2
    closure = um(1)
    with    = instrument.comparator
    range   = [given.diameter - um(30), given.diameter + um(300)]
  }

  result "form" {
    title    = "Each station against the mean"
    value    = reading.bar - mean(reading.bar)
    unit     = "um"
    positive = "fat"
  }
  result "spread" {
    title    = "Fattest less thinnest"
    value    = spread(reading.bar)
    unit     = "um"
    positive = "never below nothing"
  }
  result "bell" {
    title    = "The thinner end against the middle"
    value    = least([first(reading.bar), last(reading.bar)]) - at(reading.bar, given.length / 2)
    unit     = "um"
    positive = "end fatter than the middle"
  }
  gate "even" {
    title     = "Every station within 2 µm of the mean"
    of        = result.form # a profile: holds when it holds at every station
    within    = plus_minus(um(2))
    source    = "shop rule, estimate"
    if_failed = [correction.lap, concession]
  }
  gate "ends" {
    title     = "Ends not bell-mouthed"
    of        = result.bell
    at_least  = um(-1) # W604: a third of 1 µm is finer than the comparator; the author knows
    source    = "shop rule, estimate"
    if_failed = [correction.shorten, correction.lap, concession]
  }
}

correction "shorten" {
  title    = "Shorten the overrun"
  when     = result.bell < um(-2)
  do       = ["Overrun the ends by an eighth of the lap, ${given.lap_length / 8}, not a quarter. Lap the middle only."]
  spindle  = "turning"
  caution  = [caution.lapping]
  disturbs = [gate.even, gate.ends]
  attempts = 4
}

correction "lap" {
  title    = "Dwell where the bar is fat"
  amount   = result.form - least(result.form) # a profile: one amount a station
  unit     = "um"
  positive = "to take off the diameter" # no `negative`: nothing is put back
  ledger   = "bar"
  spindle  = "turning"
  caution  = [caution.lapping]
  do = [
    "Full strokes to begin, overrun ${given.lap_length / 4}; turn the lap end for end often.",
    "Dwell longest at ${where_greatest(result.form)} from the first station, in proportion elsewhere.",
  ]
  disturbs = [gate.even, gate.ends]
  attempts = 25
  should_change {
    result = result.spread
    by     = -spread(amount)
  }
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

rehearsal "a barrel, and a lap that cuts two thirds" {
  seeds = 20
  hidden { form = along([mm(0), mm(50), mm(100), mm(150), mm(200)], [um(0), um(5), um(8), um(5), um(1)]) }
  noise { bar = um(0.2) }
  answer {
    diameter   = mm(25)
    stations   = 5
    length     = mm(200)
    lap_length = mm(40)
    cool       = given.diameter + um(0.3) / each.take
    bar        = given.diameter + at(hidden.form, each.station)
  }
  reacts "lap" { form = hidden.form - amount * 0.66 }
  reacts "shorten" { # the middle only
    form = hidden.form - along([mm(0), mm(50), mm(100), mm(150), mm(200)], [um(0), um(1.2), um(2.2), um(1.2), um(0.1)])
  }
  ends {
    outcome = "accepted"
    rounds  = { lap = at_most(6), shorten = at_most(2) }
  }
}
