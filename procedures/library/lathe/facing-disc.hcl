# A disc is faced, and an indicator on the cross slide is wound across it, past
# the centre. The slide that cut the near half reads the far half with its error
# doubled: the far rim reads twice what the middle lies low.

procedure "facing-disc" {
  title    = "Disc faced, and read past its centre"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Face a disc and see whether it came out flat or a little hollow, never crowned. What is wrong is put right at the ways of the cross slide."
  decision = "guarded"
  duration = hours(2)
  sources = [
    "half the reading past the centre: derived here; a slope of 0.02 in 300 reads 0.008 over a disc of 120 and is 0.004 deep",
    "limit: typical of ISO 1708:1989 P2, verify against the text you hold",
  ]
}

given "diameter" {
  ask   = "Disc: diameter where the rim is read"
  unit  = "mm"
  range = [mm(60), mm(600)]
}
given "ways" {
  ask   = "Cross slide: length of its ways in the saddle"
  unit  = "mm"
  from  = machine.cross_ways
  range = [mm(100), mm(800)]
}

instrument "flank_dial" {
  kind       = "lever indicator of 0.002 mm on the slide's flank"
  resolution = um(2)
  turn       = mm(0.2)
}

step "ready" {
  title   = "Make the disc ready"
  spindle = "stopped"
  caution = [caution.isolate, caution.lifting]
  lasting = true
  tools = [
    "cast-iron disc, at least half the swing, on the face plate or in the four-jaw chuck",
    "sharp facing tool at centre height within 0.1 mm (0.004 in)",
    "lever indicator for the tool post, arm short and stiff",
  ]
  do = [
    "Spindle warm, its axial slip judged. Gibs of the cross slide as in use.",
    "Turn the disc once round by hand: it clears saddle and tool post. Chuck key out.",
  ]
  confirm "fast" { ask = "Disc: held fast, and clear all round?" }
}

step "rough" {
  title   = "Rough the face"
  spindle = "turning"
  caution = [caution.rotating, caution.chips]
  lasting = true
  do = [
    "Slowest speed first. Stand aside of the disc while it comes up to speed; a disc that shakes is balanced, or turned slower.",
    "Turn the face a little low at mid-radius and round the centre: two rings are left, an outer and an inner one.",
    "Rough both rings, so that the test cut takes next to nothing.",
  ]
  confirm "balanced" { ask = "Disc: runs without shaking at cutting speed?" }
}

step "cut" {
  title   = "Face the disc"
  spindle = "turning"
  caution = [caution.rotating, caution.chips]
  do = [
    "Lock the saddle to the bed. A saddle that creeps cuts any shape.",
    "Stand aside of the disc while it comes up to speed.",
    "Depth 0.1 mm (0.004 in) at most, power cross feed 0.1 mm (0.004 in) a turn, in one go from the rim inwards.",
    "Stop the spindle. Back the tool off with the top slide, and leave the saddle locked.",
  ]
  confirm "saddle_locked" { ask = "Saddle: locked, and not moved since the cut?" }
}

step "read" {
  title   = "Read the face past its centre"
  needs   = [step.cut]
  spindle = "stopped"
  caution = [caution.isolate, caution.sharp_edges]
  do = [
    "Indicator in the tool post, tip square on the face.",
    "Begin at the rim on your side: set the needle to zero there, once.",
    "Wind the cross slide only, across the centre, to the far rim.",
    "Come to each place from the same side, or the screw's lost motion tilts the slide.",
    "Do not turn the spindle: the cut face is what is read.",
  ]

  # From zero three times: the mean of three goes is worth more, and a
  # slide that rocks shows.
  reading "face" {
    each "go" { of = ["first", "second", "third"] }
    each "rim" { of = ["near", "far"] }
    ask      = "Face, ${each.rim} rim, ${each.go} go: reading"
    unit     = "um"
    with     = instrument.lever
    positive = "face towards the tailstock"
    nudge    = "towards the tailstock"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    closure  = um(3)
    range    = [um(-300), um(300)]
  }

  result "far_rim" {
    title = "Far rim less near rim"
    value = mean([
      reading.face.first.far - reading.face.first.near,
      reading.face.second.far - reading.face.second.near,
      reading.face.third.far - reading.face.third.near,
    ])
    unit     = "um"
    positive = "face towards the tailstock"
  }
  result "depth" {
    title    = "Middle of the disc below its rim"
    value    = facing_depth(result.far_rim)
    unit     = "um"
    positive = "hollow"
  }
  result "slope" {
    title    = "Cross slide against a square face, in a metre"
    value    = facing_slope(result.far_rim, given.diameter)
    unit     = "um/m"
    positive = "rear end towards the headstock, faces hollow"
  }
  gate "faces_hollow" {
    title     = "Faces flat or hollow, never crowned"
    of        = result.depth
    within    = between(um(0), scaled(table.lathe.faced, mm(300), given.diameter, um(5), um(1)))
    test      = "faced"
    if_failed = [correction.once_more, correction.swing, concession]
    upstream = [
      accepted["spindle-health"],
      accepted["headstock-align"],
      accepted["gib-backlash"],
      accepted["cross-slide-square"],
    ]
  }
}

correction "once_more" {
  title = "Face it once more before anything is scraped"
  do = [
    "Whet the tool; set it to centre height. Tighten the saddle's lock, wipe its face.",
    "Take up the gib of the cross slide until it just drags.",
  ]
  spindle  = "stopped"
  caution  = [caution.isolate, caution.sharp_edges]
  attempts = 1
}

# The slope per 300 that lies in the middle of what the disc may show.
correction "swing" {
  title    = "Swing the ways of the cross slide"
  amount   = (scaled(table.lathe.faced, mm(300), given.diameter, um(5), um(1)) / given.diameter - result.slope) * given.ways
  unit     = "mm"
  positive = "towards the headstock, at the rear end"
  negative = "towards the tailstock, at the rear end"
  ledger   = "guiding flank of the cross slide"
  spindle  = "stopped"
  caution  = [caution.isolate, caution.lifting, caution.scraping, caution.blue]
  do = [
    "Slide off. Scrape the guiding flank in the saddle, most at one end, tapering to nothing at the other. Then slide on, and the gib fitted to it again.",
    "What is scraped off cannot be put back: take half first, then face the disc again.",
    "A lever indicator on the bed, tip on the flank's rear end, tells how far the slide has swung.",
  ]
  disturbs = [accepted["cross-slide-square"], accepted["gib-backlash"], accepted["topslide-angle"]]
  attempts = 5
  moved {
    ask  = "Rear end: swung by, plus towards the headstock"
    with = instrument.flank_dial
  }
  should_change {
    result = result.depth
    by     = amount / given.ways * given.diameter / 2
  }
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# A slope of 0.020 in 300 over a disc of 120: the far rim reads 0.008, the
# middle is 0.004 deep. Here 200 across: 5 µm deep are 10 µm at the far rim.
rehearsal "a good machine" {
  grade = "normal"
  seeds = 20
  hidden {
    depth = um(8)
    creep = um(0) # what a saddle that was not locked adds
    gain  = 1     # of what the ways are swung, what reaches the cut
  }
  spread {
    depth = um(8)
    gain  = 0.1
  }
  noise { face = um(0.4) }
  answer {
    diameter = mm(200)
    ways     = mm(280)
    face     = each.rim == "far" ? 2 * (hidden.depth + hidden.creep) : um(0)
  }
  reacts "swing" { depth = hidden.depth + moved * hidden.gain / given.ways * given.diameter / 2 }
  reacts "once_more" { creep = um(0) }
  ends {
    outcome = "accepted"
    rounds  = { once_more = 0, swing = 0 }
  }
}

rehearsal "faces crowned, and scraped" {
  like  = "a good machine"
  seeds = 20
  hidden { depth = um(-12) }
  ends {
    outcome = "accepted"
    rounds  = { once_more = 1, swing = at_most(2) }
  }
}

rehearsal "too hollow, and scraped" {
  like  = "a good machine"
  seeds = 20
  hidden { depth = um(32) }
  ends {
    outcome = "accepted"
    rounds  = { once_more = 1, swing = at_most(2) }
  }
}

rehearsal "a saddle that crept, found before metal is scraped" {
  like  = "a good machine"
  seeds = 20
  hidden { creep = um(-20) }
  ends {
    outcome = "accepted"
    rounds  = { once_more = 1, swing = 0 }
  }
}

rehearsal "swung the wrong way first" {
  like  = "a good machine"
  seeds = 10
  hidden { depth = um(-12) }
  mistake "wrong_way" { of = correction.swing }
  ends {
    outcome = "accepted"
    rounds  = { swing = at_most(3) }
    said    = { swing = ["wrong_way"] }
  }
}

rehearsal "the needle on the face reads the other way round" {
  like  = "a good machine"
  seeds = 10
  mistake "reversed" { of = reading.face }
  ends {
    outcome = "accepted"
    rounds  = { swing = 0 }
  }
}

rehearsal "next to flat, where three goes do not tell" {
  like  = "a good machine"
  seeds = 10
  hidden { depth = um(0.3) }
  ends {
    outcome = "accepted"
    rounds  = { swing = at_most(1) }
  }
}

rehearsal "ways that do not answer" {
  like = "a good machine"
  hidden { depth = um(-12) }
  reacts "swing" {}
  ends {
    outcome = "conceded"
    rounds  = { swing = 5 }
  }
}
