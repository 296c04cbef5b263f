# A bar between centres, from the saw to the last cut: centre holes, roughing, a
# rest, holes lapped again, finishing. Six diameters tell whether it is round,
# parallel and of size; set-over and last cut are worked out from them.

procedure "make-bar" {
  title    = "Make a bar between centres"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Make a bar that is round, parallel and of size, for test cuts or to be lapped into a test bar. Rough it, let it rest, true its centre holes, and finish it in light passes with the set-over that it asks for."
  decision = "guarded"
  duration = hours(18) # most of it the rest
  sources = [
    "set-over from the taper: F. D. Jones, Turning and Boring",
    "roughing lets stress loose, so that a bar bends for a day: trade practice",
    "limits: shop rules, estimates",
  ]
}

given "centres" {
  ask   = "Bar: length between the centre points"
  unit  = "mm"
  range = [mm(80), mm(1000)]
  from  = machine.test_bar.length
}
given "span" {
  ask   = "Bar: end place to end place, for measuring"
  unit  = "mm"
  range = [mm(50), given.centres]
}
given "diameter" {
  ask   = "Bar: diameter when all is done"
  unit  = "mm"
  range = [mm(10), mm(80)]
}
given "leave" {
  # For lapping 0.008 to 0.015 mm (0.0003 to 0.0006 in); nothing where the cut is the last.
  ask   = "Bar: left on for lapping, on the diameter"
  unit  = "mm"
  range = [mm(0), mm(0.3)]
}

instrument "barrel" {
  kind       = "dial indicator on the front of the tailstock barrel"
  resolution = um(10)
  turn       = mm(1)
}

step "blank" {
  title   = "Face and centre the blank"
  spindle = "turning"
  caution = [caution.rotating, caution.chips]
  lasting = true
  tools = [
    "free-cutting or normalised steel, 4 mm (0.16 in) over size, no bright-drawn bar",
    "centre drill for 60°, driving dog, sharp finishing tool",
    "bench comparator, or gauge blocks and an indicator of 0.5 µm (0.00002 in), dial indicator for the barrel",
  ]
  do = [
    "In the chuck, in a steady where it is long: face one end, drill the centre, turn round, the other.",
    "Holes deep enough for the centre to bear on two thirds of the cone. A small recess guards their edge.",
  ]
  confirm "holes" { ask = "Centre holes: smooth, both of one size?" }
}

step "rough" {
  title   = "Rough the bar between centres"
  spindle = "turning"
  caution = [caution.rotating, caution.centres, caution.chips]
  lasting = true
  do = [
    "Between centres, dog at the headstock end. Grease the dead centre; ease it as the bar warms and grows.",
    "Turn to 1 mm (0.04 in) over size, half the bar at a time: turn it end for end, dog on a soft pad.",
  ]
  confirm "skin" { ask = "Old skin: gone all over?" }
}

step "rest" {
  title   = "Let the bar rest, then true its centre holes"
  spindle = "stopped"
  caution = [caution.isolate, caution.abrasive]
  lasting = true
  do      = ["After the rest, lap both centre holes by hand: a 60° lap, fine compound, a few turns each. Wash them out."]
  wait "stress" {
    why      = "the stress that roughing let loose bends the bar for a day"
    at_least = hours(12)
  }
  confirm "lapped" { ask = "Centre holes: lapped with a 60° lap, washed?" }
}

step "finish" {
  title   = "Take a light finishing pass"
  spindle = "turning"
  caution = [caution.rotating, caution.centres, caution.chips]
  do = [
    "First time: to about 0.3 mm (0.012 in) over size, so that passes are left for the set-over.",
    "After a set-over or new centre holes: one pass, 0.025 mm (0.001 in) deep. To size: just what was told.",
    "Sharp tool at centre height, about 0.1 mm (0.004 in) a turn, over both end places.",
    "Drip coolant or let it cool between passes. Do not touch the cross slide within a pass.",
  ]
  confirm "one_setting" { ask = "Both end places: cut at one setting?" }
}

step "measure" {
  title   = "Measure six diameters"
  needs   = [step.finish] # measured again means cut again
  spindle = "stopped"
  caution = [caution.isolate, caution.sharp_edges]
  do = [
    "Wash the bar, stand it beside the comparator. No warm hands on it: use a cloth.",
    "At each end place three directions, a sixth of a turn apart.",
  ]

  # A bar of 25 mm that is 10 kelvin warm reads 2.9 µm large.
  wait "cool" {
    why      = "the bar is warm from the cut, and a warm bar measures large"
    at_least = minutes(10)
    until {
      ask   = "Headstock-end place: diameter"
      unit  = "mm"
      with  = instrument.comparator
      every = minutes(5)
      agree = um(0.5)
      takes = 12 # then the person decides, with a reason
    }
  }
  reading "size" {
    each "place" { of = ["headstock_end", "tailstock_end"] }
    each "turned" { of = ["0", "60", "120"] }
    ask     = each.place == "headstock_end" ? "Headstock end, bar turned ${each.turned}°: diameter" : "Tailstock end, bar turned ${each.turned}°: diameter"
    unit    = "mm"
    closure = um(1)
    with    = instrument.comparator
    range   = [given.diameter - mm(1), given.diameter + mm(3)]
  }

  # Three diameters do not show three lobes; those are from a soft centre hole.
  result "oval" {
    title    = "Out of round, the worse place"
    value    = greatest([for p, d in reading.size : spread(d)])
    unit     = "um"
    positive = "never below nothing"
  }
  result "taper" {
    title    = "Taper over the span"
    value    = mean(reading.size.tailstock_end) - mean(reading.size.headstock_end)
    unit     = "um"
    positive = "larger at the tailstock end"
  }
  result "over" {
    title    = "Mean diameter against what is to be left"
    value    = (mean(reading.size.tailstock_end) + mean(reading.size.headstock_end)) / 2 - given.diameter - given.leave
    unit     = "um"
    positive = "larger"
  }

  gate "round" {
    title     = "Round by three diameters at each end"
    of        = result.oval
    at_most   = um(3)
    source    = "shop rule, estimate"
    if_failed = [correction.recentre, concession]
    upstream  = [accepted["spindle-health"]]
  }
  gate "parallel" {
    title     = "The bar is parallel"
    of        = result.taper
    within    = plus_minus(scaled(um(4), mm(250), given.span, um(3), um(1)))
    source    = "shop rule, estimate: 0.004 mm on the diameter in 250 mm"
    if_failed = [correction.set_over, concession]
    upstream = [
      gate.round,
      accepted["tailstock-by-test-cut"],
      accepted["lathe-level-twist"],
      accepted["headstock-align"],
    ]
  }
  # Size last: every pass before it took some off.
  gate "of_size" {
    title     = "Of size: 0 to 0.02 mm over what is to be left"
    of        = result.over
    within    = between(um(0), um(20))
    source    = "shop rule, estimate"
    if_failed = [correction.last_cut, concession]
    upstream  = [gate.parallel]
  }
}

correction "recentre" {
  title   = "True centres and centre holes"
  spindle = "stopped"
  caution = [caution.isolate, caution.abrasive]
  do = [
    "Read the live centre's run-out. One that runs out is trued, or changed, before the holes are blamed.",
    "Lap both centre holes again, wash, grease. Set the dead centre so that the bar turns without shake and without drag.",
  ]
  disturbs = [gate.parallel, gate.of_size]
  attempts = 3
}

correction "set_over" {
  title    = "Set the tailstock over"
  amount   = set_over(result.taper, given.centres, given.span)
  unit     = "mm"
  positive = "towards the operator"
  negative = "away from the operator"
  spindle  = "stopped"
  caution  = [caution.isolate]
  do = [
    "Indicator on the front of the barrel, set to zero. Trust it, not the screw: on many lathes the screw turns the wrong way.",
    "Slacken the clamp, move, lock with the usual pull, then read.",
  ]
  disturbs = [
    gate.round,
    gate.of_size,
    accepted["tailstock-by-test-cut"],
    accepted["tail-height"],
    accepted["quill-parallel"],
  ]
  attempts = 6
  moved {
    ask  = "Barrel, locked: moved, plus towards the operator"
    with = instrument.barrel
  }
  should_change {
    result = result.taper
    by     = taper_after(um(0), amount, given.centres, given.span)
  }
}

correction "last_cut" {
  title    = "Bring the bar to size by the passes that follow"
  amount   = result.over - um(10)
  unit     = "mm"
  positive = "smaller: take it off the diameter" # no `negative`: nothing is put back
  ledger   = "bar"
  spindle  = "turning"
  caution  = [caution.rotating, caution.centres, caution.chips]
  do = [
    "The finishing passes come next: in all they take this off the diameter, and no more.",
    "Half of it on a dial that shows the depth. More than 0.1 mm (0.004 in): several passes, the last 0.025 mm (0.001 in) deep.",
    "What is cut off cannot be put back.",
  ]
  disturbs = [gate.round, gate.parallel]
  attempts = 6
  should_change {
    result = result.over
    by     = -amount
  }
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# `left` is what stands over size. A set-over pass takes another 50 µm.
rehearsal "a bar that is right at the first pass" {
  seeds = 20
  hidden {
    left   = um(11)
    offset = mm(0)
    oval   = um(0.4)
    dial   = 1 # of what the dial says, what comes off
    warm   = um(2)
  }
  noise { size = um(0.2) }
  answer {
    centres  = mm(320)
    span     = mm(240)
    diameter = mm(25)
    leave    = mm(0.01)
    cool     = given.diameter + um(50) + hidden.warm / each.take
    size = (given.diameter + given.leave + hidden.left
      + (each.turned == "60" ? hidden.oval : um(0))
      - (each.place == "tailstock_end" ? 2 * hidden.offset * given.span / given.centres : um(0)))
  }
  reacts "set_over" {
    offset = hidden.offset + moved
    left   = hidden.left - um(50)
  }
  reacts "recentre" {
    oval = um(0.5)
    left = hidden.left - um(50)
  }
  reacts "last_cut" { left = hidden.left - amount * hidden.dial }
  ends {
    outcome = "accepted"
    rounds  = { set_over = 0, recentre = 0, last_cut = 0 }
  }
}

rehearsal "as it mostly goes: set over, then to size" {
  like  = "a bar that is right at the first pass"
  seeds = 20
  hidden {
    left   = um(300)
    offset = -um(45)
  }
  ends {
    outcome = "accepted"
    rounds  = { set_over = at_most(3), last_cut = at_most(2) }
  }
}

rehearsal "a dial that takes nine tenths" {
  like  = "a bar that is right at the first pass"
  seeds = 20
  hidden {
    left = um(300)
    dial = 0.9
  }
  ends {
    outcome = "accepted"
    rounds  = { last_cut = at_most(3) }
  }
}

rehearsal "centre holes that were drilled rough" {
  like  = "a bar that is right at the first pass"
  seeds = 20
  hidden {
    left = um(300)
    oval = um(7)
  }
  ends {
    outcome = "accepted"
    rounds  = { recentre = 1 }
  }
}

rehearsal "set over the wrong way at first" {
  like  = "a bar that is right at the first pass"
  seeds = 20
  hidden {
    left   = um(400)
    offset = -um(60)
  }
  mistake "wrong_way" { of = correction.set_over }
  ends {
    outcome = "accepted"
    rounds  = { set_over = at_most(3) }
    said    = { set_over = ["wrong_way"] }
  }
}

rehearsal "the ends taken for one another" {
  like  = "a bar that is right at the first pass"
  seeds = 20
  hidden {
    left   = um(400)
    offset = -um(60)
  }
  mistake "swapped" { of = reading.size }
  ends {
    outcome = "accepted"
    rounds  = { set_over = at_most(4) }
  }
}

# Caught before anything is cut by it: the readings go on falling.
rehearsal "measured while it is still warm" {
  like  = "a bar that is right at the first pass"
  seeds = 20
  hidden { warm = um(9) }
  ends {
    outcome = "accepted"
    rounds  = { last_cut = 0 }
  }
}

rehearsal "close to all limits" {
  like  = "a bar that is right at the first pass"
  seeds = 20
  hidden {
    left   = um(18.6)
    offset = -um(2.3)
    oval   = um(2.6)
  }
  answer { leave = mm(0.1) }
  ends {
    outcome = "conceded"
    rounds  = { last_cut = at_most(2) }
  }
}

rehearsal "a little over size, where the comparator cannot tell" {
  like  = "a bar that is right at the first pass"
  seeds = 20
  hidden { left = um(18.6) }
  ends {
    outcome = "accepted"
    rounds  = { last_cut = 1 }
  }
}

rehearsal "cut too small" {
  like = "a bar that is right at the first pass"
  hidden { left = -um(40) }
  ends {
    outcome = "conceded"
    rounds  = { last_cut = 0 }
  }
}

rehearsal "a bar that stays oval" {
  like = "a bar that is right at the first pass"
  hidden { oval = um(7) }
  reacts "recentre" {}
  ends {
    outcome = "conceded"
    rounds  = { recentre = 3 }
  }
}

rehearsal "a tailstock that will not stay where it is set" {
  like = "a bar that is right at the first pass"
  hidden { offset = -um(60) }
  reacts "set_over" {}
  ends {
    outcome = "conceded"
    rounds  = { set_over = 6 }
  }
}
