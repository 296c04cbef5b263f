# The cross ways on the saddle against the carriage's own travel, before the
# headstock is set: a square lies on the bed, its sole along the travel, its blade
# across. The sole need not lie quite true: how far it does not is read and taken
# off, and so is the square's own error.

procedure "cross-ways-square" {
  title    = "Cross ways square to the carriage's travel"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Square the cross ways of the saddle to the carriage's travel before the headstock is set, so that head and cross slide need not be scraped twice. The faceplate judges both together afterwards."
  decision = "guarded"
  duration = hours(3)
  sources = [
    "square laid along the travel and read across: common practice",
    "slope across less slope along less the square's own: derived here; 6 µm in 150 across, 2 in 200 along, 10 µm/m of the square leave 20 µm/m",
    "limit: half of what G13 of ISO 1708:1989 is typically given, verify; a head set to the tool side adds its share",
  ]
}

given "along" {
  ask   = "Square, sole: length read along the bed"
  unit  = "mm"
  range = [mm(60), mm(400)]
}
given "across" {
  ask   = "Square, blade: length read across the bed"
  unit  = "mm"
  range = [mm(80), mm(400)]
}
# No `ask`: it cannot be typed. The square was proved against a column.
given "square" {
  title = "Square: its error, plus blade leans outwards"
  unit  = "um/m"
  from  = accepted["ref-square-reversal"].result.slope
  fresh = days(365)
}
given "way" {
  ask   = "Saddle: cross ways, length front to rear"
  unit  = "mm"
  from  = machine.cross_ways
  range = [mm(100), m(1)]
}
given "guide" {
  ask    = "Cross ways: which flank has no gib?"
  choose = ["headstock side", "tailstock side"]
}

step "ready" {
  title   = "Make bed, slide and square ready"
  spindle = "stopped"
  caution = [caution.isolate, caution.lifting]
  tools = [
    "the square whose error was found, 150 mm (6 in) or more along blade and sole",
    "two matched parallels, clamps with soft pads",
    "lever indicator of 0.001 mm (0.00005 in) on the cross slide, arm short and stiff",
  ]
  do = [
    "Saddle fitted, keep plates as in use. Gib of the cross slide as in use.",
    "Chuck off. Parallels across the ways in front of the headstock, wiped, without rock.",
    "Try the square for burrs and stone them off.",
  ]
  confirm "same_square" { ask = "Square: the very one whose error was found?" }
}

step "lay" {
  title   = "Lay the square on the bed and read it, the ${each.lay} time"
  needs   = [step.ready]
  spindle = "stopped"
  caution = [caution.isolate]
  each "lay" { of = ["first", "second"] }
  do = [
    each.lay == "first" ? "Lay the square flat on the parallels." : "Take the square off, wipe it and the parallels, lay it on again.",
    "Its sole lies along the bed, its bottom face to you. Its blade points away from you, the back of the blade to the tailstock.",
    "Clamp it lightly. Tap it until the sole reads alike within 0.02 mm (0.001 in) along the travel: what is left is taken off.",
    "Along: cross slide locked, tip on the sole's bottom face, wind the carriage. Needle to about zero at the headstock end.",
    "Across: carriage locked, tip on the back of the blade, wind the slide. Come to each place from the front, or the screw's lost motion tilts the slide.",
  ]
  reading "sole" {
    each "end" { of = ["headstock", "tailstock"] }
    ask      = "Sole, ${each.end} end: needle"
    unit     = "um"
    with     = instrument.fine_lever
    positive = "sole towards the operator"
    nudge    = "towards the operator"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    tested   = reading.sole
    closure  = um(2)
    range    = [um(-90), um(90)]
  }
  reading "blade" {
    each "end" { of = ["front", "rear"] }
    ask      = "Blade, ${each.end} end: needle"
    unit     = "um"
    with     = instrument.fine_lever
    positive = "blade towards the tailstock"
    nudge    = "towards the tailstock"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    tested   = reading.blade
    closure  = um(2)
    range    = [um(-90), um(90)]
  }

  # A square that lies askew shows in both alike, so their difference is free of it.
  result "this_lay" {
    title    = "Cross ways against the travel, as laid"
    value    = (reading.blade.rear - reading.blade.front) / given.across - (reading.sole.tailstock - reading.sole.headstock) / given.along - given.square
    unit     = "um/m"
    positive = "hollow: rear end towards the headstock"
  }
}

step "judge" {
  title = "Both lays together"

  result "differ" {
    title    = "The two lays differ over the blade by"
    value    = spread(result.this_lay) * given.across
    unit     = "um"
    positive = "never below nothing"
  }
  gate "lays_alike" {
    title     = "The square tells the same twice"
    of        = result.differ
    at_most   = um(4)
    decision  = "simple" # a check of the set-up, not of the machine
    source    = "shop rule, estimate"
    if_failed = [correction.clamp_again, reject]
  }
  result "slope" {
    title    = "Cross ways against the carriage's travel"
    value    = mean(result.this_lay)
    unit     = "um/m"
    positive = "hollow: rear end towards the headstock"
  }
  result "over" {
    title    = "Cross ways over the length of the blade"
    value    = per_length(result.slope, given.across)
    unit     = "um"
    positive = "hollow"
  }
  gate "square_to_travel" {
    title     = "Square to the travel, or a little hollow, never crowned"
    of        = result.over
    within    = between(um(0), scaled(table.lathe.cross_ways, mm(300), given.across, um(5), um(1)))
    test      = "cross_ways"
    if_failed = [correction.scrape, concession]
    upstream = [
      gate.lays_alike,
      accepted["saddle-fit"],
      accepted["lathe-carriage-straight"],
      accepted["ref-square-reversal"],
    ]
  }
}

correction "clamp_again" {
  title = "Wipe, clamp lightly, read both lays again"
  do = [
    "Wipe square and parallels. A clamp that bends the blade shows here: nip it over a parallel only.",
    "Look for a loose arm, a gib that rocks, a carriage that was not locked.",
  ]
  spindle  = "stopped"
  caution  = [caution.isolate]
  disturbs = [gate.square_to_travel]
  attempts = 3
}

# Seen from above: to face hollow, the rear end of the slide must run towards the
# headstock. The slide rests on the flank without a gib and follows it when metal
# comes off.
correction "scrape" {
  title    = "Scrape the cross slide's guide on the saddle"
  amount   = (scaled(table.lathe.cross_ways, mm(300), given.across, um(5), um(1)) / 2 / given.across - result.slope) * given.way
  unit     = "um"
  positive = "off the ${given.guide == "tailstock side" ? "rear" : "front"} end"
  negative = "off the ${given.guide == "tailstock side" ? "front" : "rear"} end"
  ledger   = "cross ways on the saddle, guide without gib"
  spindle  = "stopped"
  caution  = [caution.isolate, caution.lifting, caution.scraping, caution.blue]
  do = [
    "Slide off. Blue the guide with the slide or a dovetail straightedge. Work on the flank at the ${given.guide}.",
    "Take the full amount at the end that is named, fading to nothing at the other.",
    "What is scraped off cannot be put back: take half first, then read.",
    "Slide on, gib set as in use.",
  ]
  disturbs = [
    gate.lays_alike,
    accepted["gib-backlash"],
    accepted["cross-slide-square"],
    accepted["facing-disc"],
    accepted["topslide-angle"],
  ]
  attempts = 6
  should_change {
    result = result.slope
    by     = amount / given.way
  }
}

signoff "fitter" { title = "Carried out by" }

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Worked by hand: ways that run 17 µm/m hollow, a square that lies 10 µm/m askew
# and leans outwards by 8 read 2 over 200 along and (17 + 10 + 8)·0.2 = 7 over 200
# across; 7/0.2 - 10 - 8 = 17 again.
rehearsal "ways a little hollow" {
  grade = "normal"
  seeds = 20
  hidden {
    slope = um(17) / m(1)
    askew = um(10) / m(1) # the square on the bed
    slip  = um(0)         # of the square, in the first lay, before the rear of its blade is read
    gain  = 1             # of what is scraped, what shows
  }
  spread {
    slope = um(40) / m(1)
    askew = um(20) / m(1)
    gain  = 0.15
  }
  noise {
    sole  = um(0.3)
    blade = um(0.3)
  }
  answer {
    along  = mm(200)
    across = mm(200)
    square = um(8) / m(1)
    way    = mm(320)
    guide  = "tailstock side"
    sole   = each.end == "tailstock" ? hidden.askew * given.along : um(0)
    blade  = each.end == "rear" ? (hidden.slope + hidden.askew + given.square) * given.across + (each.lay == "first" ? hidden.slip : um(0)) : um(0)
  }
  reacts "scrape" { slope = hidden.slope + hidden.gain * moved / given.way }
  reacts "clamp_again" { slip = um(0) }
  ends {
    outcome = "accepted"
    rounds  = { scrape = 0, clamp_again = 0 }
  }
}

rehearsal "crowned, scraped hollow" {
  like  = "ways a little hollow"
  seeds = 20
  hidden { slope = um(-120) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(2) }
  }
}

rehearsal "far too hollow, the guide at the headstock side" {
  like  = "ways a little hollow"
  seeds = 20
  hidden {
    slope = um(250) / m(1)
    gain  = 0.8
  }
  answer { guide = "headstock side" }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(4) }
  }
}

# Caught before metal goes: the two lays do not agree.
rehearsal "a square that slipped under its clamp" {
  like  = "ways a little hollow"
  seeds = 20
  hidden { slip = um(14) }
  ends {
    outcome = "accepted"
    rounds  = { clamp_again = 1, scrape = 0 }
  }
}

rehearsal "the needle on the blade reads the other way round" {
  like  = "ways a little hollow"
  seeds = 20
  mistake "reversed" { of = reading.blade }
  ends {
    outcome = "accepted"
    rounds  = { scrape = 0 }
  }
}

rehearsal "the wrong end scraped first" {
  like  = "ways a little hollow"
  seeds = 20
  hidden { slope = um(-120) / m(1) }
  mistake "wrong_way" { of = correction.scrape }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(3) }
    said    = { scrape = ["wrong_way", "as_expected"] }
  }
}

rehearsal "just where crowned begins" {
  like  = "ways a little hollow"
  seeds = 30
  hidden { slope = um(4) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { scrape = at_most(1) }
  }
}

rehearsal "a square that never lies still" {
  like = "ways a little hollow"
  hidden { slip = um(14) }
  reacts "clamp_again" {}
  ends {
    outcome = "rejected"
    rounds  = { clamp_again = 3 }
  }
}

rehearsal "a slide that does not answer" {
  like = "ways a little hollow"
  hidden { slope = um(-120) / m(1) }
  reacts "scrape" {}
  ends {
    outcome = "conceded"
    rounds  = { scrape = 6 }
  }
}
