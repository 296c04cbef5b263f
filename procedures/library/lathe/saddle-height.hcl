# A saddle that was scraped, on a bed that was scraped, stands lower, and the
# apron with it: half-nuts and pinion no longer meet screw and rack. How far they
# are off is seen where the half-nuts close: they push the screw aside.

procedure "saddle-height" {
  title    = "Apron, leadscrew and rack in line again"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Bring leadscrew and rack to the height of the fitted saddle, so that the closed half-nuts do not bend the screw. The saddle's own fit comes first."
  decision = "guarded"
  duration = hours(4)
  sources = [
    "leadscrew parallel and half-nuts in line to 0.10 mm (0.004 in): makers' practice",
    "packing under the apron hung a saddle on its leadscrew and ruined it: reported by rebuilders",
    "liner: the drop and 0.15 mm to scrape; estimate",
  ]
}

# No `ask`: it cannot be typed. The saddle's own fit comes first.
given "drop" {
  title = "Saddle: dropped when it was fitted"
  unit  = "mm"
  from  = accepted["saddle-fit"].result.drop
}
given "cure" {
  ask    = "Which cure: lower the screw, or line the saddle?"
  choose = ["lower the screw", "line the saddle"]
}

step "ready" {
  title   = "Clean screw, nuts and rack"
  spindle = "stopped"
  caution = [caution.isolate]
  tools   = ["dial indicator of 0.01 mm (0.0004 in) on the saddle", "feeler for the rack"]
  do = [
    "Isolate: the leadscrew must not turn while a hand is at it.",
    "Wash screw and half-nuts; chips in the thread lift a nut by as much as the saddle dropped.",
    "Apron bolted to the saddle as in use, nothing packed between them.",
  ]
  confirm "no_packing" { ask = "Apron: bolted metal to metal?" }
}

step "screw" {
  title   = "Screw against the carriage's travel"
  spindle = "stopped"
  do = [
    "Half-nuts open. Tip on the crest of the thread or on the screw's plain end, on top.",
    "Needle to about zero at the headstock end; wind the carriage to the tailstock end and read.",
    "Then the same in front of the screw.",
  ]
  reading "top" {
    each "end" { of = ["headstock", "tailstock"] }
    ask      = "Screw on top, ${each.end} end"
    unit     = "mm"
    repeat   = 2
    closure  = um(10)
    with     = instrument.dial
    positive = "screw high"
    nudge    = "up"
    push     = "Lift the screw by hand"
    range    = [mm(-3), mm(3)]
  }
  reading "front" {
    each "end" { of = ["headstock", "tailstock"] }
    ask      = "Screw in front, ${each.end} end"
    unit     = "mm"
    repeat   = 2
    closure  = um(10)
    with     = instrument.dial
    positive = "screw towards the operator"
    nudge    = "towards the operator"
    push     = "Pull the screw by hand"
    range    = [mm(-3), mm(3)]
  }
  result "rises" {
    title    = "Screw rises towards the tailstock end"
    value    = mean(reading.top.tailstock) - mean(reading.top.headstock)
    unit     = "mm"
    positive = "high at the tailstock end"
  }
  result "swings" {
    title    = "Screw comes forward towards the tailstock end"
    value    = mean(reading.front.tailstock) - mean(reading.front.headstock)
    unit     = "mm"
    positive = "towards the operator"
  }
  gate "parallel_upright" {
    title     = "Screw parallel to the travel, upright plane"
    of        = result.rises
    within    = plus_minus(table.lathe.leadscrew_parallel)
    if_failed = [correction.end_bracket, concession]
    upstream  = [accepted["saddle-fit"]]
  }
  gate "parallel_level" {
    title     = "Screw parallel to the travel, level plane"
    of        = result.swings
    within    = plus_minus(table.lathe.leadscrew_parallel)
    if_failed = [correction.end_bracket_sideways, concession]
    upstream  = [accepted["saddle-fit"]]
  }
}

step "nuts" {
  title   = "Close the half-nuts"
  spindle = "stopped"
  do = [
    "Carriage in the middle of the bed: there the screw gives way, at its ends it would hold the apron.",
    "Half-nuts open: tip on the screw beside the apron, needle to about zero, read.",
    "Close the nuts gently, read again. First on top of the screw, then in front of it.",
  ]
  reading "above" {
    each "nuts" { of = ["open", "closed"] }
    ask      = "Screw on top, nuts ${each.nuts}"
    unit     = "mm"
    repeat   = 2
    with     = instrument.dial
    positive = "screw up"
    nudge    = "up"
    push     = "Lift the screw by hand"
    range    = [mm(-3), mm(3)]
  }
  reading "before" {
    each "nuts" { of = ["open", "closed"] }
    ask      = "Screw in front, nuts ${each.nuts}"
    unit     = "mm"
    repeat   = 2
    with     = instrument.dial
    positive = "screw towards the operator"
    nudge    = "towards the operator"
    push     = "Pull the screw by hand"
    range    = [mm(-3), mm(3)]
  }
  result "up" {
    title    = "Half-nuts push the screw, upright plane"
    value    = mean(reading.above.closed) - mean(reading.above.open)
    unit     = "mm"
    positive = "up: the apron stands too high"
  }
  result "forward" {
    title    = "Half-nuts push the screw, level plane"
    value    = mean(reading.before.closed) - mean(reading.before.open)
    unit     = "mm"
    positive = "towards the operator"
  }
  gate "nuts_height" {
    title     = "Half-nuts at the height of the screw"
    of        = result.up
    within    = plus_minus(table.lathe.half_nuts)
    if_failed = [correction.line, correction.lower, concession]
    upstream  = [gate.parallel_upright, accepted["saddle-fit"]]
  }
  gate "nuts_sideways" {
    title     = "Half-nuts in line with the screw, level plane"
    of        = result.forward
    within    = plus_minus(table.lathe.half_nuts)
    if_failed = [correction.apron, concession]
    upstream  = [gate.parallel_level, accepted["saddle-fit"]]
  }
}

step "rack" {
  title   = "Pinion in the rack"
  spindle = "stopped"
  do      = ["Wind the carriage by hand over the whole bed. Feel the lost motion of the handwheel at both ends."]
  reading "mesh" {
    ask    = "Rack and pinion: how do they mesh?"
    choose = ["a little play all along", "tight somewhere", "loose"]
  }
  gate "meshes" {
    title     = "Rack and pinion have a little play all along"
    holds     = reading.mesh == "a little play all along"
    source    = "common practice"
    if_failed = [correction.shim_rack, concession]
  }
}

correction "end_bracket" {
  title    = "Move the bracket at the tailstock end"
  amount   = -result.rises
  unit     = "mm"
  positive = "up"
  negative = "down"
  ledger   = "leadscrew bracket, tailstock end"
  spindle  = "stopped"
  caution  = [caution.isolate]
  do = [
    "Half-nuts open. Slacken the bracket, draw its pins, move it by the dial.",
    "Tighten, see that the screw turns freely by hand. New pins when all is done.",
  ]
  disturbs = [gate.nuts_height, accepted["leadscrew"]]
  attempts = 4
  moved {
    ask  = "Bracket: moved after tightening, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.rises
    by     = amount
  }
}

correction "end_bracket_sideways" {
  title    = "Move the bracket at the tailstock end sideways"
  amount   = -result.swings
  unit     = "mm"
  positive = "towards the operator"
  negative = "away from the operator"
  ledger   = "leadscrew bracket, tailstock end, sideways"
  spindle  = "stopped"
  caution  = [caution.isolate]
  do = [
    "Half-nuts open. Slacken the bracket, move it by the dial; file or pack its seat.",
    "Tighten, see that the screw turns freely by hand.",
  ]
  disturbs = [gate.nuts_sideways, accepted["leadscrew"]]
  attempts = 4
  moved {
    ask  = "Bracket: moved, plus towards the operator"
    with = instrument.dial
  }
  should_change {
    result = result.swings
    by     = amount
  }
}

# An apron that hangs low pushes the screw down: minus, so the liner is wanted.
correction "line" {
  title    = "Line the underside of the saddle"
  when     = given.cure == "line the saddle" && result.up < mm(0)
  amount   = mm(0.15) - result.up
  unit     = "mm"
  positive = "liner, to lift the saddle up; 0.15 mm (0.006 in) of it is to be scraped off"
  ledger   = "saddle, liner under it"
  spindle  = "stopped"
  caution  = [caution.lifting, caution.scraping]
  do = [
    "Low-friction liner, bonded as its maker says. Press it evenly: glue lines that differ by 0.15 mm (0.006 in) were found.",
    "Measure it at all corners when the glue is hard. Scrape the saddle to the bed again, then read.",
    "The saddle came down by ${given.drop} when it was fitted.",
  ]
  disturbs = [
    gate.parallel_upright,
    gate.parallel_level,
    gate.meshes,
    accepted["saddle-fit"],
    accepted["cross-ways-square"], accepted["cross-slide-square"],
    accepted["headstock-align"],
  ]
  attempts = 2
  should_change {
    result = result.up
    by     = amount - mm(0.15)
  }
}

correction "lower" {
  title    = "Bring the screw to the half-nuts"
  amount   = result.up
  unit     = "mm"
  positive = "brackets up at both ends"
  negative = "brackets down at both ends"
  ledger   = "leadscrew brackets, both ends"
  spindle  = "stopped"
  caution  = [caution.isolate]
  do = [
    "Both brackets, feed shaft and rack go the same way by the same amount; the gearbox end has to follow.",
    "Never pack the apron down from the saddle to suit the screw: the saddle then hangs on the screw.",
    "The saddle came down by ${given.drop} when it was fitted.",
  ]
  disturbs = [gate.parallel_upright, gate.parallel_level, gate.meshes, accepted["leadscrew"]]
  attempts = 4
  moved {
    ask  = "Brackets: moved after tightening, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.up
    by     = -amount
  }
}

correction "apron" {
  title    = "Move the apron sideways"
  amount   = -result.forward
  unit     = "mm"
  positive = "towards the operator"
  negative = "away from the operator"
  spindle  = "stopped"
  caution  = [caution.isolate, caution.lifting]
  do = [
    "Half-nuts closed on the screw. Slacken the apron's screws, let it find its place, tighten evenly.",
    "Where holes and pins do not let it, open them.",
  ]
  disturbs = [gate.meshes, accepted["leadscrew"]]
  attempts = 4
  moved {
    ask  = "Apron: moved, plus towards the operator"
    with = instrument.dial
  }
  should_change {
    result = result.forward
    by     = amount
  }
}

correction "shim_rack" {
  title = "Set the rack to the pinion"
  do = [
    "Tight: file or space the rack up, away from the pinion. Loose: bring it down by a shim along its whole length.",
    "Then wind over the whole bed again.",
  ]
  spindle  = "stopped"
  caution  = [caution.isolate]
  attempts = 4
}

signoff "fitter" { title = "Carried out by" }

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# The screw follows the nut where it is free: what the nut is off by, the screw
# goes when it is closed.
rehearsal "apron and screw in line" {
  grade = "normal"
  seeds = 20
  hidden {
    rises  = mm(0.02)
    swings = mm(-0.01)
    up     = mm(-0.03) # the nut against the screw, in the middle
    side   = mm(0.01)
    rack   = 0         # 0 in order, 1 loose
    gain   = 1         # of what is moved, what shows
  }
  spread {
    rises = mm(0.05)
    up    = mm(0.05)
    side  = mm(0.05)
    gain  = 0.1
  }
  noise {
    top    = um(2)
    front  = um(2)
    above  = um(2)
    before = um(2)
  }
  answer {
    drop   = mm(0.2)
    cure   = "lower the screw"
    top    = each.end == "tailstock" ? hidden.rises : mm(0)
    front  = each.end == "tailstock" ? hidden.swings : mm(0)
    above  = each.nuts == "closed" ? hidden.up : mm(0)
    before = each.nuts == "closed" ? hidden.side : mm(0)
    mesh   = hidden.rack == 0 ? "a little play all along" : "loose"
  }
  reacts "end_bracket" {
    rises = hidden.rises + hidden.gain * moved
    up    = hidden.up - hidden.gain * moved / 2
  }
  reacts "end_bracket_sideways" {
    swings = hidden.swings + hidden.gain * moved
    side   = hidden.side - hidden.gain * moved / 2
  }
  reacts "line" {
    up   = hidden.up + moved - mm(0.15)
    rack = 0
  }
  reacts "lower" {
    up   = hidden.up - hidden.gain * moved
    rack = 1
  }
  reacts "apron" { side = hidden.side + hidden.gain * moved }
  reacts "shim_rack" { rack = 0 }
  ends {
    outcome = "accepted"
    rounds  = { lower = 0, apron = 0, shim_rack = 0 }
  }
}

rehearsal "the saddle came down 0.35 mm, screw lowered" {
  like  = "apron and screw in line"
  seeds = 20
  hidden { up = mm(-0.35) }
  answer { drop = mm(0.35) }
  ends {
    outcome = "accepted"
    rounds  = { lower = at_most(2), shim_rack = 1 }
  }
}

rehearsal "the saddle came down 0.6 mm, and is lined" {
  like  = "apron and screw in line"
  seeds = 20
  hidden {
    up   = mm(-0.6)
    rack = 1
  }
  answer {
    drop = mm(0.6)
    cure = "line the saddle"
  }
  ends {
    outcome = "accepted"
    rounds  = { line = 1, lower = 0, shim_rack = 0 }
  }
}

rehearsal "the screw points up and forward" {
  like  = "apron and screw in line"
  seeds = 20
  hidden {
    rises  = mm(0.4)
    swings = mm(0.3)
    side   = mm(0.05)
  }
  ends {
    outcome = "accepted"
    rounds  = { end_bracket = at_most(2), end_bracket_sideways = at_most(2) }
  }
}

rehearsal "brackets moved the wrong way first" {
  like  = "apron and screw in line"
  seeds = 20
  hidden { up = mm(-0.35) }
  mistake "wrong_way" { of = correction.lower }
  ends {
    outcome = "accepted"
    rounds  = { lower = at_most(3) }
    said    = { lower = ["wrong_way"] }
  }
}

rehearsal "the apron was set sideways" {
  like  = "apron and screw in line"
  seeds = 20
  hidden { side = mm(-0.25) }
  ends {
    outcome = "accepted"
    rounds  = { apron = at_most(2) }
  }
}

rehearsal "close to all limits" {
  like  = "apron and screw in line"
  seeds = 30
  hidden {
    rises  = mm(0.093)
    swings = mm(-0.093)
    up     = mm(-0.093)
    side   = mm(0.093)
  }
  ends { outcome = "accepted" }
}

rehearsal "nothing can be moved" {
  like = "apron and screw in line"
  hidden {
    rises  = mm(0.4)
    swings = mm(0.3)
    up     = mm(-0.6)
    side   = mm(0.3)
    rack   = 1
  }
  answer { cure = "line the saddle" }
  reacts "end_bracket" {}
  reacts "end_bracket_sideways" {}
  reacts "line" {}
  reacts "lower" {}
  reacts "apron" {}
  reacts "shim_rack" {}
  ends { outcome = "conceded" }
}
