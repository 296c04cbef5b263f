# The tailstock ways against the carriage's travel: tailstock and carriage go
# along the bed together, and an indicator on the saddle reads the barrel on top
# and in front, the tailstock clamped at every place as it is when it works.

procedure "lathe-tailways" {
  title    = "Tailstock ways parallel to the carriage ways"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Find where the tailstock rises, falls or swerves against the carriage as it is moved along the bed, and scrape its ways until it does not. The carriage ways come first."
  decision = "guarded"
  duration = hours(2)
  sources = [
    "indicator on the saddle, barrel read on top and in front while both move: common practice",
    "limits: typical of ISO 1708:1989 G3, verify against the text you hold",
  ]
}

given "length" {
  ask   = "Tailstock: first to last place along the bed"
  unit  = "mm"
  range = [mm(150), m(2)]
}
given "guide" {
  ask    = "Bed: what guides the tailstock sideways?"
  choose = ["a vee", "a square edge"]
}
given "vee" {
  ask   = "Vee: angle between its flanks"
  unit  = "deg"
  when  = given.guide == "a vee"
  range = [deg(60), deg(120)]
}

step "ready" {
  title   = "Tailstock and carriage side by side"
  spindle = "stopped"
  caution = [caution.isolate]
  tools   = ["lever indicator of 0.002 mm (0.0001 in) on the saddle", "a spacer to push the tailstock with"]
  do = [
    "Wipe the tailstock ways and the underside of its base. Stone burrs.",
    "Barrel out by its own diameter, clamped. Cross slide locked.",
    "Put the spacer between saddle and tailstock, so that the tip keeps its place on the barrel.",
  ]
  confirm "barrel" { ask = "Barrel clamped, cross slide locked?" }
}

step "top" {
  title   = "Read the barrel on top"
  spindle = "stopped"
  do = [
    "Start at the headstock end: clamp the tailstock with the usual pull, needle to about zero.",
    "Unclamp, push the tailstock with the saddle to the next place, clamp, read.",
    "A barrel that jumps when it is clamped has dirt or wear under the base.",
  ]
  reading "height" {
    ask      = "Barrel, on top, at ${each.station}"
    unit     = "um"
    along    = stations(mm(0), given.length, 5)
    closure  = um(4)
    with     = instrument.lever
    positive = "tailstock high"
    nudge    = "up"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    range    = [um(-300), um(300)]
  }
  result "rise" {
    title    = "Tailstock over the lowest place"
    value    = reading.height - least(reading.height)
    unit     = "um"
    positive = "high"
  }
  result "upright" {
    title    = "Tailstock to carriage, upright plane"
    value    = spread(reading.height)
    unit     = "um"
    positive = "never below nothing"
  }
  result "upright_next" {
    title    = "From one place to the next, upright plane"
    value    = greatest(abs(changes(reading.height - first(reading.height))))
    unit     = "um"
    positive = "never below nothing"
  }
  gate "level_travel" {
    title     = "The tailstock keeps its height along the bed"
    of        = result.upright
    at_most   = given.length <= mm(500) ? table.lathe.tailways_local : table.lathe.tailways
    test      = "tailways"
    if_failed = [correction.scrape_tops, concession]
    upstream  = [accepted["lathe-bed-wear"], accepted["lathe-level-twist"]]
  }
  gate "no_step" {
    title     = "No jump in height from one place to the next"
    of        = result.upright_next
    at_most   = table.lathe.tailways_local
    test      = "tailways_local"
    if_failed = [correction.scrape_tops, concession]
  }
}

step "side" {
  title   = "Read the barrel in front"
  spindle = "stopped"
  do      = ["The same on the front of the barrel, at centre height. Needle to about zero at the headstock end."]
  reading "swerve" {
    ask      = "Barrel, in front, at ${each.station}"
    unit     = "um"
    along    = stations(mm(0), given.length, 5)
    closure  = um(4)
    with     = instrument.lever
    positive = "tailstock towards the operator"
    nudge    = "towards the operator"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    range    = [um(-300), um(300)]
  }
  result "forward" {
    title    = "Tailstock against the place furthest back"
    value    = reading.swerve - least(reading.swerve)
    unit     = "um"
    positive = "towards the operator"
  }
  result "level" {
    title    = "Tailstock to carriage, level plane"
    value    = spread(reading.swerve)
    unit     = "um"
    positive = "never below nothing"
  }
  gate "straight_travel" {
    title     = "The tailstock keeps its line along the bed"
    of        = result.level
    at_most   = given.length <= mm(500) ? table.lathe.tailways_local : table.lathe.tailways_level
    test      = "tailways_level"
    if_failed = [correction.scrape_flank, concession]
    upstream  = [gate.level_travel, accepted["lathe-carriage-straight"]]
  }
}

correction "scrape_tops" {
  title    = "Scrape the tailstock ways where they are high"
  amount   = result.rise
  unit     = "um"
  positive = "down, off both ways alike"
  ledger   = "tailstock ways, height"
  spindle  = "stopped"
  caution  = [caution.isolate, caution.lifting, caution.scraping, caution.blue]
  do = [
    "Most at ${where_greatest(result.rise)} from the first place, none where the amount is 0.",
    "On a vee take the amount as height: both flanks get 0.7 of it where they stand at 90°.",
    "A pass takes off 3 to 5 µm (0.0002 in). What is scraped off cannot be put back: take half first.",
  ]
  disturbs = [
    gate.straight_travel,
    accepted["tail-height"],
    accepted["quill-parallel"],
    accepted["tailstock-by-test-cut"],
  ]
  attempts = 8
  should_change {
    result = result.upright
    by     = -spread(amount)
  }
}

# The tailstock moves away from the flank that is cut, and drops as it does so.
correction "scrape_flank" {
  title    = "Scrape the front flank of the tailstock way"
  amount   = result.forward / (given.guide == "a vee" ? vee_lateral(um(1), given.vee) / um(1) : 1)
  unit     = "um"
  positive = "off the front flank"
  ledger   = "tailstock way, operator's flank"
  spindle  = "stopped"
  caution  = [caution.isolate, caution.lifting, caution.scraping, caution.blue]
  do = [
    "Most at ${where_greatest(result.forward)} from the first place, none where the amount is 0.",
    "A pass takes off 3 to 5 µm (0.0002 in). On a vee the tailstock drops as it goes sideways.",
    "What is scraped off cannot be put back: take half first.",
  ]
  disturbs = [
    gate.level_travel,
    gate.no_step,
    accepted["tail-height"],
    accepted["quill-parallel"],
    accepted["tailstock-by-test-cut"],
  ]
  attempts = 8
  should_change {
    result = result.level
    by     = -spread(amount) * (given.guide == "a vee" ? vee_lateral(um(1), given.vee) / um(1) : 1)
  }
}

signoff "fitter" { title = "Carried out by" }

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Ways worn where the tailstock mostly stands: it rises from the headstock end to
# the far one. A flank of 90° that loses n moves it 0.7 n back and 0.7 n down.
rehearsal "tailstock ways in order" {
  grade = "normal"
  seeds = 20
  hidden {
    up   = um(5)  # at the far end, against the headstock end
    over = um(-4) # the same, towards the operator
    jump = um(0)  # up at the third place alone
  }
  spread {
    up   = um(15)
    over = um(15)
  }
  noise {
    height = um(0.5)
    swerve = um(0.5)
  }
  answer {
    length = mm(400)
    guide  = "a vee"
    vee    = deg(90)
    height = hidden.up * each.station / given.length + (each.station == mm(200) ? hidden.jump : um(0))
    swerve = hidden.over * each.station / given.length
  }
  reacts "scrape_tops" {
    up   = hidden.up - (last(moved) - first(moved))
    jump = hidden.jump - (at(moved, given.length / 2) - (first(moved) + last(moved)) / 2)
    over = hidden.over + um(1)
  }
  reacts "scrape_flank" {
    over = hidden.over - 0.7071 * (last(moved) - first(moved))
    up   = hidden.up - 0.7071 * (last(moved) - first(moved))
  }
  ends {
    outcome = "accepted"
    rounds  = { scrape_tops = 0, scrape_flank = 0 }
  }
}

rehearsal "worn low at the headstock end, scraped" {
  like  = "tailstock ways in order"
  seeds = 20
  hidden { up = um(60) }
  ends {
    outcome = "accepted"
    rounds  = { scrape_tops = at_most(2), scrape_flank = 0 }
  }
}

rehearsal "swerves towards the operator, and drops when that is scraped" {
  like  = "tailstock ways in order"
  seeds = 20
  hidden { over = um(45) }
  ends {
    outcome = "accepted"
    rounds  = { scrape_flank = at_most(2), scrape_tops = at_most(2) }
  }
}

rehearsal "a long bed with a square edge and a bump" {
  like  = "tailstock ways in order"
  seeds = 20
  hidden {
    over = um(-40)
    jump = um(26)
  }
  answer {
    length = mm(900)
    guide  = "a square edge"
    height = hidden.up * each.station / given.length + (each.station == mm(450) ? hidden.jump : um(0))
  }
  reacts "scrape_flank" { over = hidden.over - (last(moved) - first(moved)) }
  ends {
    outcome = "accepted"
    rounds  = { scrape_tops = at_least(1), scrape_flank = at_least(1) }
  }
}

rehearsal "the needle in front reads the other way round" {
  like  = "tailstock ways in order"
  seeds = 20
  hidden { over = um(45) }
  mistake "reversed" { of = reading.swerve }
  ends {
    outcome = "accepted"
    rounds  = { scrape_flank = at_most(2) }
  }
}

rehearsal "the low end scraped first" {
  like  = "tailstock ways in order"
  seeds = 10
  hidden { up = um(60) }
  mistake "wrong_way" { of = correction.scrape_tops }
  ends {
    outcome = "accepted"
    rounds  = { scrape_tops = at_most(3), scrape_flank = 0 }
    said    = { scrape_tops = ["wrong_way", "as_expected"] }
  }
}

# A turn of the pointer is 0.2 mm. Going back to the first place shows it.
rehearsal "misread by a turn at the first place, found on going back to it" {
  like  = "tailstock ways in order"
  seeds = 10
  mistake "turn" { of = reading.height }
  ends {
    outcome = "accepted"
    rounds  = { scrape_tops = 0, scrape_flank = 0 }
    said    = { height = ["void"] }
  }
}

rehearsal "close to both limits" {
  like  = "tailstock ways in order"
  seeds = 30
  hidden {
    up   = um(19.4)
    over = um(19.4)
  }
  ends {
    outcome = "accepted"
    rounds  = { scrape_tops = at_most(2), scrape_flank = at_most(2) }
  }
}

rehearsal "close to the limit for a jump, on a long bed" {
  like  = "a long bed with a square edge and a bump"
  seeds = 30
  hidden {
    up   = um(0)
    over = um(0)
    jump = um(19.4)
  }
  ends { outcome = "accepted" }
}

rehearsal "ways that no scraping mends" {
  like = "a long bed with a square edge and a bump"
  hidden {
    up   = um(60)
    over = um(45)
    jump = um(26)
  }
  reacts "scrape_tops" {}
  reacts "scrape_flank" {}
  ends {
    outcome = "conceded"
    rounds  = { scrape_tops = 8, scrape_flank = 8 }
  }
}
