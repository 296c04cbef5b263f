# The fit of a tapered plug in its socket, by blue: where along its length it
# marks, how far round, twice with the plug turned. What marks at one end only
# gives the angle by which the plug is off, and the swing of the top slide that
# mends it while the plug still stands in the machine.

procedure "taper-fit-blue" {
  title    = "Fit of a taper by blue"
  machine  = "any"
  revision = "1"
  purpose  = "See where a plug marks in its socket, and swing the top slide by the angle that the print shows. A fit that bears at the large end holds; one that bears at the small end alone rocks."
  decision = "simple"
  duration = minutes(90)
  sources = [
    "gap that grows evenly from the end that touches, film by share of length: derived here",
    "tight at the large end: trade practice",
    "limits: shop rules, estimates",
  ]
}

given "stands" {
  ask    = "Plug: still in the machine it is cut on?"
  choose = ["yes", "no"]
}
given "length" {
  ask   = "Taper: length that should bear"
  unit  = "mm"
  range = [mm(15), mm(200)]
}
given "radius" {
  when  = given.stands == "yes"
  ask   = "Top slide: pivot to where its swing is read"
  unit  = "mm"
  range = [mm(30), mm(300)]
}
given "film" {
  # Thicker blue hides the error: 5 µm of it hide 10 µm of taper over half the length.
  ask   = "Blue: thickness of the film, thin is 2.5 µm"
  unit  = "um"
  range = [um(1), um(5)]
}

instrument "swing" {
  kind       = "indicator of 0.002 mm on the side of the top slide"
  resolution = um(2)
}

step "ready" {
  title   = "Clean plug and socket"
  spindle = "stopped"
  caution = [caution.isolate, caution.blue]
  tools = [
    "marking blue in a tube, lint-free cloth, fine flat stone",
    "a known good plug of the same taper, if there is one",
    "camera or telephone for the prints",
  ]
  do = [
    "Wipe both dry. Feel the socket's mouth with a fingernail: a burr there marks as if the large end bore.",
    "Plug and socket at one temperature. A plug of 24 mm (1 in), 10 kelvin warm, is 2.8 µm (0.0001 in) too large.",
    "Try the known plug first. If that marks badly too, the socket is worn, not your plug wrong.",
  ]
  confirm "cold" { ask = "Plug and socket: at the same temperature?" }
}

step "print" {
  title   = "Take a print, plug turned ${each.turn}°"
  spindle = "stopped"
  caution = [caution.isolate, caution.blue]
  each "turn" { of = ["0", "120"] }
  do = [
    "Wipe both dry. Thin film on the plug, all round: so thin that the metal shows through.",
    "Push in lightly at ${each.turn}° from the mark, turn at most 30° one way, no rocking. Withdraw straight.",
    "Look where the blue was rubbed bright or went over to the socket. Rule beside it.",
  ]

  reading "end" {
    ask    = "Print ${each.turn}°: at which end did it mark?"
    choose = ["large", "small", "all"]
  }
  reading "part" {
    when  = reading.end != "all" # not asked: what is made from it takes the other branch
    ask   = "Print ${each.turn}°: share of length that marked"
    unit  = "%"
    range = [percent(5), percent(99)]
  }
  reading "round" {
    ask   = "Print ${each.turn}°: share of the way round"
    unit  = "%"
    range = [percent(0), percent(100)]
  }
  reading "picture" {
    ask      = "Print ${each.turn}°: photograph, rule beside it"
    evidence = true
  }

  result "cover" {
    title    = "Length that bears"
    value    = reading.end == "all" ? percent(100) : reading.part
    unit     = "%"
    positive = "never below nothing"
  }
  # Half-angle: plug less socket. The end that marks is the proud one.
  result "angle" {
    title    = "Plug's half-angle against the socket's"
    value    = reading.end == "all" ? arcsec(0) : blue_angle(given.film, reading.part, given.length) * (reading.end == "large" ? 1 : -1)
    unit     = "arcsec"
    positive = "plug steeper"
  }
}

step "judge" {
  title = "Both prints together"

  # Before metal: two prints that do not agree are of dirt, or of a rocked plug.
  gate "same_print" {
    title     = "Both prints mark at the same end"
    holds     = reading.end["0"] == reading.end["120"]
    source    = "shop rule"
    if_failed = [correction.wipe, reject]
  }
  result "bears" {
    title    = "Length that bears, poorer print"
    value    = least(result.cover)
    unit     = "%"
    positive = "never below nothing"
  }
  result "steep" {
    title    = "Plug's half-angle against the socket's, both prints"
    value    = mean(result.angle)
    unit     = "arcsec"
    positive = "plug steeper"
  }
  gate "bears_enough" {
    title     = "At least 80 % of the length bears"
    of        = result.bears
    at_least  = percent(80)
    source    = "shop rule, estimate"
    if_failed = [correction.swing, reject]
    upstream  = [gate.same_print, accepted["topslide-angle"]]
  }
  gate "large_end" {
    title     = "Not heavier at the small end"
    holds     = reading.end["0"] != "small"
    source    = "trade practice: tight at the large end"
    if_failed = [correction.ease_small, reject]
    upstream  = [gate.bears_enough]
  }
  result "bears_round" {
    title    = "Way round that bears, poorer print"
    value    = least(reading.round)
    unit     = "%"
    positive = "never below nothing"
  }
  gate "round_enough" {
    title     = "At least 80 % of the way round bears"
    of        = result.bears_round
    at_least  = percent(80)
    source    = "shop rule, estimate"
    if_failed = [correction.wipe, reject]
    upstream  = [accepted["spindle-health"]]
  }
}

correction "wipe" {
  title   = "Clean, stone burrs, blue thinner"
  spindle = "stopped"
  caution = [caution.isolate, caution.blue]
  do = [
    "Wash both. Feel the socket's mouth for a burr; stone off what stands proud, no more.",
    "Wipe the plug until the blue is barely seen. In straight, out straight.",
  ]
  disturbs = [gate.bears_enough, gate.large_end, gate.same_print, gate.round_enough]
  attempts = 3
}

correction "swing" {
  title    = "Swing the top slide and cut again"
  when     = given.stands == "yes" # a plug that was taken down would be cut out of true
  amount   = swing(given.radius, -result.steep)
  unit     = "mm"
  positive = "steeper, away from parallel"
  negative = "shallower, towards parallel"
  ledger   = "plug"
  spindle  = "turning"
  caution  = [caution.rotating, caution.chips]
  do = [
    "Marked at the large end: the plug is too steep, make it shallower. At the small end: steeper.",
    "Spindle still stopped: indicator on the side of the top slide, ${given.radius} from the pivot, set to zero. Slacken, swing, lock, then read.",
    "Now start it. One light cut over the whole taper, at most 0.05 mm (0.002 in) deep. Stop, let it cool, then print.",
  ]
  disturbs = [gate.same_print, gate.large_end, gate.round_enough]
  attempts = 6
  moved {
    ask  = "Top slide: movement after locking, plus steeper"
    with = instrument.swing
  }
  should_change {
    result = result.steep
    by     = amount / given.radius * radian(1)
  }
}

correction "ease_small" {
  title   = "Ease the small end"
  spindle = "turning"
  caution = [caution.rotating, caution.abrasive]
  do = [
    "Fine stone or lap on a handle, a few strokes over the last quarter at the small end. Never emery in the hand.",
    "Stop the spindle. Wash the plug, take both prints again.",
  ]
  disturbs = [gate.same_print, gate.bears_enough, gate.round_enough]
  attempts = 3
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
}

# The print of a plug that is off by `steep`: blue goes over where the gap is less
# than the film. Worked by hand: 2.5 µm over half of 60 mm is 2.5/30000 = 17″.
rehearsal "a plug that fits" {
  seeds = 20
  hidden {
    steep = arcsec(4)
    dirt  = false # marks at the other end in the second print
    burr  = false # at the mouth: bears little of the way round
    gain  = 1
  }
  spread { steep = arcsec(25) }
  answer {
    stands = "yes"
    length = mm(60)
    radius = mm(80)
    film   = um(2.5)
    end = (hidden.dirt && each.turn == "120" ? (hidden.steep > arcsec(0) ? "small" : "large")
      : abs(hidden.steep) < arcsec(9) ? "all" : hidden.steep > arcsec(0) ? "large" : "small")
    part    = least([percent(99), given.film / given.length * radian(1) / abs(hidden.steep)])
    round   = hidden.burr ? percent(55) : percent(95)
    picture = "print.jpg"
  }
  reacts "swing" { steep = hidden.steep + moved / given.radius * radian(1) * hidden.gain }
  reacts "wipe" {
    dirt = false
    burr = false
  }
  reacts "ease_small" { steep = arcsec(2) }
  ends {
    outcome = "accepted"
    rounds  = { swing = 0, wipe = 0, ease_small = 0 }
  }
}

rehearsal "too steep by 40 seconds" {
  like  = "a plug that fits"
  seeds = 20
  hidden { steep = arcsec(40) }
  ends {
    outcome = "accepted"
    rounds  = { swing = at_most(2) }
    said    = { swing = ["as_expected"] }
  }
}

rehearsal "too shallow by 40 seconds" {
  like  = "a plug that fits"
  seeds = 20
  hidden { steep = arcsec(-40) }
  ends {
    outcome = "accepted"
    rounds  = { swing = at_most(2), ease_small = 0 }
  }
}

rehearsal "swung the wrong way at first" {
  like  = "a plug that fits"
  seeds = 20
  hidden { steep = arcsec(40) }
  mistake "wrong_way" { of = correction.swing }
  ends {
    outcome = "accepted"
    rounds  = { swing = at_most(3) }
    said    = { swing = ["wrong_way"] }
  }
}

rehearsal "taken back by the clamp" {
  like  = "a plug that fits"
  seeds = 20
  hidden { steep = arcsec(40) }
  mistake "undone" { of = correction.swing }
  ends {
    outcome = "accepted"
    rounds  = { swing = at_most(3) }
    said    = { swing = ["undone"] }
  }
}

# Caught before metal is cut: the prints do not agree.
rehearsal "dirt in one of two prints" {
  like  = "a plug that fits"
  seeds = 20
  hidden {
    steep = arcsec(10)
    dirt  = true
  }
  ends {
    outcome = "accepted"
    rounds  = { wipe = 1, swing = 0 }
  }
}

rehearsal "a burr at the mouth" {
  like = "a plug that fits"
  hidden { burr = true }
  ends {
    outcome = "accepted"
    rounds  = { wipe = 1 }
  }
}

rehearsal "bears well, but at the small end" {
  like = "a plug that fits"
  hidden { steep = arcsec(-10) }
  ends {
    outcome = "accepted"
    rounds  = { ease_small = 1 }
  }
}

rehearsal "a small end that will not ease" {
  like = "a plug that fits"
  hidden { steep = arcsec(-10) }
  reacts "ease_small" {}
  ends {
    outcome = "rejected"
    rounds  = { ease_small = 3 }
  }
}

rehearsal "a plug that was taken down" {
  like = "a plug that fits"
  hidden { steep = arcsec(40) }
  answer { stands = "no" }
  ends {
    outcome = "rejected"
    rounds  = { swing = 0 }
  }
}

rehearsal "a top slide that will not stay" {
  like = "a plug that fits"
  hidden { steep = arcsec(40) }
  reacts "swing" {}
  ends {
    outcome = "rejected"
    rounds  = { swing = at_least(2) }
  }
}

rehearsal "prints that never agree" {
  like = "a plug that fits"
  hidden {
    steep = arcsec(40)
    dirt  = true
  }
  reacts "wipe" {}
  ends {
    outcome = "rejected"
    rounds  = { wipe = 3 }
  }
}

rehearsal "a socket that is out of round" {
  like = "a plug that fits"
  hidden { burr = true }
  reacts "wipe" {}
  ends {
    outcome = "rejected"
    rounds  = { wipe = 3 }
  }
}
