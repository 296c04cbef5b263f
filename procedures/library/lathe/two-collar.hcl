# A bar held in the chuck alone is turned at two collars, with one setting of
# the tool. The difference of the two shows what bed and spindle do to the cut;
# what the level and the test bar already explain is taken off, and only what is
# left is put right at the feet.

procedure "two-collar" {
  title    = "Two collars on a bar held in the chuck alone"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "See what the lathe turns without the tailstock, and how much of it known twist and a known spindle axis explain. What is left is taken out at the feet of the tailstock end."
  decision = "guarded"
  duration = hours(2)
  sources = [
    "taper of a bar in the chuck: −2·yaw·span + 2·tool height·roll + 2·spring; derived here",
    "the same test between centres says nothing of the bed: it shows the tailstock",
    "limits: typical of ISO 1708:1989 P1, verify against the text you hold",
  ]
}

# No `ask`: these cannot be typed. The run waits until such accepted runs are there.
given "twist" {
  title = "Bed: its twist in a metre, as levelled"
  unit  = "um/m"
  from  = accepted["lathe-level-twist"].result.twist
  fresh = days(30)
}
given "yaw" {
  title = "Spindle axis: its slope in the level plane"
  unit  = "um/m"
  from  = accepted["headstock-align"].result.slope
  fresh = days(90)
}
given "bar" {
  ask   = "Bar: diameter between the collars"
  unit  = "mm"
  range = [mm(20), mm(80)]
}
given "span" {
  ask   = "Collars: distance, middle to middle"
  unit  = "mm"
  range = [mm(80), mm(300)]
}
given "tool_height" {
  ask   = "Tool: height above the ways"
  unit  = "mm"
  from  = machine.centre_height
  range = [mm(40), mm(600)]
}
given "feet_across" {
  ask   = "Feet: front to rear, at the tailstock end"
  unit  = "mm"
  from  = machine.feet_across
  range = [mm(80), m(1)]
}
given "feet_along" {
  ask   = "Feet: headstock end to tailstock end"
  unit  = "mm"
  from  = machine.feet_along
  range = [mm(200), m(4)]
}

instrument "foot_dial" {
  kind       = "indicator of 0.002 mm at the foot"
  resolution = um(2)
  turn       = mm(0.2)
}

step "ready" {
  title   = "Make bar and tool ready"
  spindle = "stopped"
  caution = [caution.isolate]
  lasting = true
  tools = [
    "bar at least 32 mm (1 1/4 in) thick, sticking out five times that or less",
    "sharp tool with a small nose, at centre height within 0.1 mm (0.004 in)",
    "outside micrometer, proved",
  ]
  do = ["Bar deep in the chuck and tight. No tailstock, no steady: they hide what is looked for."]
  confirm "alone" { ask = "Bar: held by the chuck alone, tailstock away?" }
}

step "rough" {
  title   = "Rough two collars"
  spindle = "turning"
  caution = [caution.rotating, caution.chips]
  lasting = true
  do = [
    "Stand clear of the free end. If the bar sings or whips, stop: slower, or a shorter bar.",
    "Turn the middle of the bar down. Two collars, 12 mm (1/2 in) wide, are left, one by the chuck, one at the free end.",
    "Rough both to nearly the same size.",
  ]
  confirm "alike" { ask = "Collars: within 0.1 mm (0.004 in) of one size?" }
}

step "cut" {
  title   = "Cut both collars"
  spindle = "turning"
  caution = [caution.rotating, caution.chips]
  do = [
    "One depth for both, 0.05 mm (0.002 in) at most. Power feed, 0.1 mm (0.004 in) a turn.",
    "Do not touch the cross slide between the collars.",
    "Then once more over both, with nothing put on, so that the tool cuts free.",
  ]
  confirm "one_setting" { ask = "Both collars: cut without touching cross slide?" }
}

step "measure" {
  title   = "Measure both collars"
  needs   = [step.cut]
  spindle = "stopped"
  caution = [caution.isolate, caution.sharp_edges]
  do = [
    "Leave the bar in the chuck. Wipe the collars and the anvils. Use the ratchet.",
    "Headstock end is by the chuck; free end is where the bar ends. Do not take one for the other.",
    "Three places round each collar, a sixth of a turn apart.",
  ]

  wait "cool" {
    why      = "the bar is warm from the cut, and a warm bar measures large"
    at_least = minutes(10)
  }

  reading "collar" {
    each "at" { of = ["headstock", "free"] }
    each "turn" { of = ["0", "60", "120"] }
    ask     = "Collar at the ${each.at} end, ${each.turn}°: diameter"
    unit    = "mm"
    closure = um(3)
    with    = instrument.micrometer
    range   = [given.bar - mm(3), given.bar + mm(10)]
  }

  # Half of what the diameters differ by. A bar of three lobes hides from it.
  result "out_of_round" {
    title    = "Poorer collar: out of round"
    value    = greatest([spread(reading.collar.headstock), spread(reading.collar.free)]) / 2
    unit     = "um"
    positive = "never below nothing"
  }
  gate "turns_round" {
    title     = "The bar turns round"
    of        = result.out_of_round
    at_most   = table.lathe.round
    test      = "round"
    if_failed = [correction.whet, concession]
    upstream  = [accepted["spindle-health"]]
  }

  result "taper" {
    title    = "Free end less headstock end, as cut"
    value    = mean(reading.collar.free) - mean(reading.collar.headstock)
    unit     = "um"
    positive = "larger at the free end"
  }
  result "known" {
    title = "Part that twist, spindle axis and spring explain"
    value = (2 * given.tool_height * given.twist * given.span / m(1)
      - 2 * given.yaw * given.span
      + 2 * tool_spring(newton(5), given.span, given.bar))
    unit     = "um"
    positive = "larger at the free end"
  }
  result "left" {
    title    = "What is left"
    value    = result.taper - result.known
    unit     = "um"
    positive = "larger at the free end"
  }
  gate "turns_true" {
    title     = "Turns parallel, or larger at the headstock end"
    of        = result.taper
    within    = between(-scaled(table.lathe.turned, mm(300), given.span, um(5), um(1)), um(0))
    test      = "turned"
    if_failed = [correction.whet, correction.foot, concession]
    upstream  = [accepted["lathe-level-twist"], accepted["headstock-align"], accepted["lathe-bed-wear"]]
  }
}

# A blunt tool pushes the free end away and leaves it large, as a twisted bed does.
correction "whet" {
  title = "Whet the tool and cut once more, before the bed is touched"
  do = [
    "Whet the tool, set it to centre height. Tighten the chuck and the gibs.",
    "Then the cut comes again: twice at one setting, the second time with nothing put on.",
  ]
  spindle  = "stopped"
  caution  = [caution.isolate, caution.sharp_edges]
  disturbs = [gate.turns_true, gate.turns_round]
  attempts = 1
}

# Where what is known is most of it, the cure is there: the bed by the level, the spindle
# by the bar. A bed is not twisted to hide a headstock.
correction "foot" {
  title    = "Raise one foot at the tailstock end"
  when     = abs(result.left) > abs(result.known) / 2
  amount   = least([um(100), greatest([um(-100), foot_shim(result.left, given.feet_across, given.feet_along, given.tool_height, given.span)])])
  unit     = "mm"
  positive = "at the front"
  negative = "at the rear"
  ledger   = "feet at the tailstock end"
  spindle  = "stopped"
  caution  = [caution.isolate]
  do = [
    "Read the level across the ways first, if it is at hand: a bed that moved shows there.",
    "Dial on the floor, tip on the bed beside that foot, set to zero.",
    "Never more than 0.1 mm (0.004 in) at a time. Leave the headstock end alone. Lock as it will stay, then read.",
  ]
  disturbs = [accepted["lathe-level-twist"], accepted["headstock-align"], accepted["tailstock-by-test-cut"]]
  attempts = 6
  moved {
    ask  = "Foot, locked: raised by, plus at the front"
    with = instrument.foot_dial
  }
  should_change {
    result = result.taper
    by     = -2 * given.tool_height * amount * given.span / (given.feet_across * given.feet_along)
  }
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Worked by hand: a spindle axis that leans 0.01 in 300 to the tool takes 0.010
# off the free end over 150; a bed that rolls by 0.04 mm/m between the collars adds
# 2 · 100 · 0.04/1000 = 0.008 under a tool 100 high.
rehearsal "a good machine" {
  grade = "home"
  seeds = 20
  hidden {
    roll  = um(0) / m(1) # twist since the bed was levelled
    gain  = 0.6          # of what a foot is raised, what reaches the ways
    push  = um(0)        # of a blunt tool, on the diameter at the free end
    lobes = um(0)
  }
  spread {
    roll = um(15) / m(1)
    gain = 0.1
  }
  noise { collar = um(0.7) }
  answer {
    twist       = um(0) / m(1)
    yaw         = um(25) / m(1)
    bar         = mm(32)
    span        = mm(150)
    tool_height = mm(100)
    feet_across = mm(180)
    feet_along  = mm(600)
    collar = (mm(34)
      + (each.turn == "60" ? hidden.lobes : um(0))
      + (each.at == "free" ? 2 * given.tool_height * hidden.roll * given.span / m(1) - 2 * given.yaw * given.span
        + 2 * tool_spring(newton(5), given.span, given.bar) + hidden.push : um(0)))
  }
  reacts "foot" { roll = hidden.roll - hidden.gain * moved * m(1) / given.feet_across / given.feet_along }
  reacts "whet" {
    push  = um(0)
    lobes = um(0)
  }
  ends {
    outcome = "accepted"
    rounds  = { whet = 0, foot = 0 }
  }
}

rehearsal "bed twisted since it was levelled, front low" {
  like  = "a good machine"
  seeds = 20
  hidden { roll = um(800) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { whet = 1, foot = at_most(4) }
  }
}

rehearsal "bed twisted since it was levelled, rear low" {
  like  = "a good machine"
  seeds = 20
  hidden { roll = um(-700) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { whet = 1, foot = at_most(4) }
  }
}

rehearsal "a blunt tool, found before a foot is raised" {
  like  = "a good machine"
  seeds = 10
  hidden { push = um(30) }
  ends {
    outcome = "accepted"
    rounds  = { whet = 1, foot = 0 }
  }
}

rehearsal "a bar turned out of round by loose jaws" {
  like  = "a good machine"
  seeds = 10
  hidden { lobes = um(40) }
  ends {
    outcome = "accepted"
    rounds  = { whet = 1, foot = 0 }
  }
}

rehearsal "the rear foot raised instead of the front one" {
  like  = "a good machine"
  seeds = 10
  hidden { roll = um(800) / m(1) }
  mistake "wrong_way" { of = correction.foot }
  ends {
    outcome = "accepted"
    rounds  = { foot = at_most(5) }
    said    = { foot = ["wrong_way"] }
  }
}

rehearsal "the collars taken for one another" {
  like  = "a good machine"
  seeds = 10
  hidden { roll = um(800) / m(1) }
  mistake "swapped" { of = reading.collar }
  ends {
    outcome = "accepted"
    rounds  = { whet = 1, foot = at_most(4) }
  }
}

rehearsal "misread by a turn of the thimble, found by the closing reading" {
  like  = "a good machine"
  seeds = 10
  mistake "turn" { of = reading.collar }
  ends {
    outcome = "accepted"
    said    = { collar = ["void"] }
  }
}

rehearsal "close to the limit" {
  like  = "a good machine"
  seeds = 20
  hidden { roll = um(200) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { foot = at_most(2) }
  }
}

rehearsal "a bar nearly too far out of round" {
  like  = "a good machine"
  seeds = 5
  hidden { lobes = um(19) }
  ends {
    outcome = "accepted"
    rounds  = { whet = 1, foot = 0 }
  }
}

rehearsal "a spindle axis left leaning away, not hidden at the feet" {
  like = "a good machine"
  answer { yaw = um(-60) / m(1) }
  ends {
    outcome = "conceded"
    rounds  = { foot = 0 }
  }
}

rehearsal "a bed that springs back" {
  like = "a good machine"
  hidden { roll = um(800) / m(1) }
  reacts "foot" {}
  ends {
    outcome = "conceded"
    rounds  = { foot = 6 }
  }
}

rehearsal "a spindle that turns no bar round" {
  like = "a good machine"
  hidden { lobes = um(40) }
  reacts "whet" {}
  ends {
    outcome = "conceded"
    rounds  = { whet = 1 }
  }
}
