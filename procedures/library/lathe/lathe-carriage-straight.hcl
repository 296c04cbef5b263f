# How straight the carriage runs in the level plane: an indicator on the saddle
# reads the front of a bar between centres, once with a mark up, once with the
# mark down, so that the bend of the bar drops out. A bar that is not in line
# with the bed only tilts the readings, and the tilt is taken off.

procedure "lathe-carriage-straight" {
  title    = "Carriage runs straight in the level plane"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Find where the carriage swerves towards the operator or away, and scrape the guiding flank until it runs straight. The bed must be untwisted and the saddle must not rock."
  decision = "guarded"
  duration = hours(2)
  sources = [
    "bar between centres, indicator on the saddle: common practice",
    "flank of a vee: 0.010 mm off one flank of 90° moves the saddle 0.0071 sideways; derived here",
    "limit: typical of ISO 1708:1989 G2, verify against the text you hold",
  ]
}

given "length" {
  ask   = "Bar: first to last station"
  unit  = "mm"
  range = [mm(150), m(2)]
}
given "guide" {
  ask    = "Bed: what guides the carriage sideways?"
  choose = ["a vee", "a square edge"]
}
given "vee" {
  ask   = "Vee: angle between its flanks"
  unit  = "deg"
  when  = given.guide == "a vee"
  range = [deg(60), deg(120)]
}

step "ready" {
  title   = "Set the bar up between centres"
  spindle = "stopped"
  caution = [caution.isolate, caution.centres]
  tools = [
    "ground bar between its own centres, qualified, as long as the travel",
    "lever indicator on the saddle, 0.002 mm (0.0001 in), arm short and stiff",
  ]
  do = [
    "Wipe centres and centre holes. Barrel little out and clamped, no more pressure than takes the play.",
    "Tip on the front of the bar at centre height, square to it. Cross slide locked.",
    "Mark the bar with a pen: mark up. Saddle gib and keep plates as in use.",
  ]
  confirm "tip" { ask = "Tip at centre height, cross slide locked?" }
}

step "run" {
  title   = "Read the bar along the travel, mark ${each.mark}"
  needs   = [step.ready]
  spindle = "stopped"
  caution = [caution.isolate]
  each "mark" { of = ["up", "down"] }
  do = [
    each.mark == "up" ? "The bar's mark up." : "Turn the bar half a turn on its centres, mark down. Touch neither tailstock nor centres.",
    "Needle to about zero at the first station, headstock end. Wind the carriage, touch nothing else.",
    "Always come to a station from the headstock; go back beyond the first one, and come to it again, for the last look.",
  ]
  reading "front" {
    ask      = "Front, mark ${each.mark}, at ${each.station}"
    unit     = "um"
    along    = stations(mm(0), given.length, 7)
    closure  = um(3)
    with     = instrument.lever
    positive = "bar towards the operator"
    nudge    = "towards the operator"
    push     = "Pull the bar lightly"
    tested   = reading.front
    range    = [um(-300), um(300)]
  }
}

step "judge" {
  title = "Both readings together: the bar's bend drops out"

  # Where the saddle goes towards the operator it leaves the bar: minus.
  result "path" {
    title    = "Path of the carriage off its straight line"
    value    = from_zone(-(reading.front.up + reading.front.down) / 2)
    unit     = "um"
    positive = "towards the operator"
  }
  result "straight" {
    title    = "Carriage motion, straightness in the level plane"
    value    = straightness((reading.front.up + reading.front.down) / 2, "minimum_zone")
    unit     = "um"
    positive = "never below nothing"
  }
  gate "runs_straight" {
    title = "The carriage runs straight in the level plane"
    of    = result.straight
    at_most = (given.length <= mm(500) ? table.lathe.carriage_straight
      : given.length <= m(1) ? table.lathe.carriage_straight_1000
      : least([um(30), table.lathe.carriage_straight_1000 + table.lathe.carriage_straight_more * (given.length - m(1))]))
    test      = "carriage_straight"
    if_failed = [correction.scrape, concession]
    upstream  = [accepted["lathe-level-twist"], accepted["saddle-fit"], accepted["ref-test-bar"]]
  }
}

# The saddle moves away from the flank that is cut: metal off the operator's flank
# brings it back where it swerves towards the operator.
correction "scrape" {
  title    = "Scrape the front of the guide on the bed"
  amount   = (result.path - least(result.path)) / (given.guide == "a vee" ? vee_lateral(um(1), given.vee) / um(1) : 1)
  unit     = "um"
  positive = "off the operator's side of the guide"
  ledger   = "bed, operator's side of the guide"
  spindle  = "stopped"
  caution  = [caution.isolate, caution.lifting, caution.scraping, caution.blue]
  do = [
    "Saddle off, bed washed. What is scraped off cannot be put back: take half first.",
    "Most at ${where_greatest(result.path)} from the first station, none where the amount is 0.",
    "A pass takes off 3 to 5 µm (0.0002 in). Blue with a straightedge longer than half the way.",
    given.guide == "a vee" ? "On a vee the saddle comes down as it goes over: take as much height off the other way." : "A square edge carries nothing: the saddle keeps its height.",
    "Fit the saddle again, set the bar up again, then read.",
  ]
  disturbs = [
    accepted["lathe-level-twist"],
    accepted["lathe-tailways"],
    accepted["saddle-fit"],
    accepted["headstock-align"],
  ]
  attempts = 8
  should_change {
    result = result.straight
    by     = -spread(amount) * (given.guide == "a vee" ? vee_lateral(um(1), given.vee) / um(1) : 1)
  }
}

signoff "fitter" { title = "Carried out by" }

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# The swerve is a half wave: greatest in the middle, nothing at the ends, as a
# parabola. The bar is bent by 0.03 and lies 0.05 out of line.
rehearsal "a carriage that runs straight" {
  grade = "normal"
  seeds = 4
  hidden {
    swerve = um(4)
    bend   = um(30)
    gain   = 1 # of what is scraped, what shows
  }
  spread {
    swerve = um(8)
    bend   = um(15)
    gain   = 0.15
  }
  noise { front = um(0.5) }
  answer {
    length = mm(420)
    guide  = "a vee"
    vee    = deg(90)
    front = (um(50) * each.station / given.length
      + (4 * each.station / given.length * (1 - each.station / given.length)) * ((each.mark == "up" ? hidden.bend : -hidden.bend) - hidden.swerve))
  }
  reacts "scrape" { swerve = hidden.swerve - hidden.gain * (at(moved, mm(210)) - (first(moved) + last(moved)) / 2) * 0.7071 }
  ends {
    outcome = "accepted"
    rounds  = { scrape = 0 }
  }
}

rehearsal "worn: swerves towards the operator, scraped" {
  like  = "a carriage that runs straight"
  seeds = 4
  hidden { swerve = um(36) }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(2) }
  }
}

rehearsal "swerves away, on a square edge" {
  like  = "a carriage that runs straight"
  seeds = 4
  hidden { swerve = um(-28) }
  answer { guide = "a square edge" }
  reacts "scrape" { swerve = hidden.swerve - hidden.gain * (at(moved, mm(210)) - (first(moved) + last(moved)) / 2) }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(2) }
  }
}

rehearsal "the needle reads the other way round, seen by the nudge" {
  like  = "a carriage that runs straight"
  seeds = 4
  hidden { swerve = um(36) }
  mistake "reversed" { of = reading.front }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(2) }
  }
}

# Off the rear flank the saddle swerves still further towards the operator.
rehearsal "scraped off the rear flank first" {
  like  = "a carriage that runs straight"
  seeds = 3
  hidden { swerve = um(36) }
  mistake "wrong_way" { of = correction.scrape }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(3) }
    said    = { scrape = ["wrong_way", "as_expected"] }
  }
}

# A turn of the pointer is 0.2 mm. Going back to the first station shows it.
rehearsal "misread by a turn at the first station, found on going back to it" {
  like  = "a carriage that runs straight"
  seeds = 3
  mistake "turn" { of = reading.front }
  ends {
    outcome = "accepted"
    rounds  = { scrape = 0 }
    said    = { front = ["void"] }
  }
}

rehearsal "close to the limit" {
  like  = "a carriage that runs straight"
  seeds = 4
  hidden { swerve = um(14.5) }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(1) }
  }
}

rehearsal "a saddle that follows nothing" {
  like = "a carriage that runs straight"
  hidden { swerve = um(36) }
  reacts "scrape" {}
  ends {
    outcome = "conceded"
    rounds  = { scrape = 8 }
  }
}
