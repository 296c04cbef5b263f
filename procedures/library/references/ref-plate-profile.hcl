# A surface plate surveyed along eight lines with an angle instrument: two
# diagonals, four edges, two centre lines. Heights of all stations follow; where
# the centre lines cross the diagonals they must meet. Local waves between the
# stations are found by a gauge that bridges 250 mm.

procedure "ref-plate-profile" {
  title    = "Surface plate by eight lines"
  machine  = "any"
  revision = "1"
  purpose  = "Survey a plate, overall and locally, and hold it against its grade. A plate that needs lapping is found here; one that only stands wrong is put right."
  decision = "guarded"
  duration = hours(7)
  sources = [
    "the eight-line survey; see the reference page of plate()",
    "a gauge that bridges 250 mm finds what the lines do not, and cannot replace them: common practice",
  ]
}

given "length" {
  ask   = "Field: length, west to east"
  unit  = "mm"
  range = [mm(200), mm(3000)]
}
given "width" {
  ask   = "Field: width, south to north"
  unit  = "mm"
  range = [mm(150), given.length]
}
given "steps_long" {
  ask   = "Length: steps of the foot (an even number)"
  count = true
  range = [4, 20]
}
given "steps_wide" {
  ask   = "Width: steps of the foot (an even number)"
  count = true
  range = [2, 20]
}
given "steps_across" {
  ask   = "Diagonal: steps of the foot (an even number)"
  count = true
  range = [4, 30]
}

instrument "angle" {
  kind       = "autocollimator or electronic level"
  resolution = arcsec(0.1)
  error      = arcsec(0.5)
  source     = "typical, verify"

  repeatability = arcsec(0.1) # without it single takes say nothing of their spread
}

step "settle" {
  title   = "Let the plate come to rest"
  caution = [caution.plate_work]
  tools = [
    "autocollimator with its mirror, or electronic level, on a foot whose length goes evenly into the lines",
    "straight guide strip, chalk line, two thermometers",
    "sled with two feet 250 mm (10 in) apart and an indicator of 0.001 mm (0.00005 in) between them",
  ]
  do = [
    "Three points under the plate. Clean it; a plate is wiped last with a bare hand that feels for grit.",
    "Lamps and sun off it, no one leaning on it.",
    "Leave a margin of a foot's width all round. Snap the eight lines.",
  ]
  gate "middle_met" { # before the wait, not after it
    title     = "Every line has a station in the middle"
    holds     = given.steps_long % 2 == 0 && given.steps_wide % 2 == 0 && given.steps_across % 2 == 0
    source    = "the survey itself"
    if_failed = [reject]
  }
  wait "settled" {
    why      = "a plate warmer on top is crowned"
    at_least = hours(4)
  }
  reading "top" {
    ask   = "Plate, on top: temperature"
    unit  = "celsius"
    range = [celsius(10), celsius(30)]
  }
  reading "under" {
    ask   = "Plate, underneath: temperature"
    unit  = "celsius"
    range = [celsius(10), celsius(30)]
  }
  result "gradient" {
    title    = "Top less underside"
    value    = reading.top - reading.under # two points make a difference
    unit     = "kelvin"
    positive = "warmer on top"
  }
  gate "at_rest" {
    title     = "Top and underside alike"
    of        = result.gradient
    within    = plus_minus(kelvin(0.3))
    decision  = "simple" # a check of the set-up, not of the plate
    source    = "shop rule, estimate"
    if_failed = [correction.rest, reject]
  }
}

step "survey" {
  title   = "Survey line ${each.line}"
  caution = [caution.plate_work]
  needs   = [step.settle]
  each "line" { of = ["nw_se", "ne_sw", "nw_ne", "sw_se", "nw_sw", "ne_se", "w_e", "n_s"] }
  do = [
    "From the first corner named to the other: nw_se runs from north-west to south-east, w_e from west to east.",
    "Foot against the strip, toe to heel: each step begins where the last one ended. A skipped mark bends the whole line.",
    "Then back over the same steps. Plus is the same way going and coming back: the end towards the second corner high.",
  ]

  # Ragged: each line has its own stations, one where each step of the foot begins.
  reading "angle_along" {
    ask  = "Line ${each.line}, foot at ${each.station}: angle"
    unit = "arcsec"
    along = (each.line == "nw_se" || each.line == "ne_sw"
      ? stations(mm(0), hypot(given.length, given.width) * (1 - 1 / given.steps_across), given.steps_across)
      : each.line == "nw_sw" || each.line == "ne_se" || each.line == "n_s"
      ? stations(mm(0), given.width * (1 - 1 / given.steps_wide), given.steps_wide)
      : stations(mm(0), given.length * (1 - 1 / given.steps_long), given.steps_long))
    both_ways = true
    closure   = arcsec(0.5)
    with      = instrument.angle
    positive  = "end towards the second corner high"
    range     = [arcsec(-120), arcsec(120)]
  }
}

step "judge" {
  title = "All lines together"

  result "heights" {
    title    = "Heights of all stations"
    value    = plate(reading.angle_along, given.length, given.width)
    unit     = "um"
    positive = "high"
  }
  result "miss" {
    title    = "Centre lines miss the middle by"
    value    = greatest(abs(plate_closure(reading.angle_along, given.length, given.width)))
    unit     = "um"
    positive = "never below nothing"
  }
  result "flatness" {
    title    = "Flatness, least zone"
    value    = flatness(result.heights, "minimum_zone")
    unit     = "um"
    positive = "never below nothing"
  }
  gate "closes" {
    title     = "The lines meet in the middle"
    of        = result.miss
    at_most   = um(1) + table.plate.constant / 5
    decision  = "simple" # a check of the survey, not of the plate
    source    = "shop rule, estimate"
    if_failed = [correction.rest, reject]
  }
  gate "flat" {
    title     = "Flat for its grade"
    of        = result.flatness
    at_most   = table.plate.constant + table.plate.growth * hypot(given.length, given.width)
    test      = "plate_flatness"
    if_failed = [correction.support, concession]
    upstream  = [gate.at_rest, gate.closes]
  }
}

step "local" {
  title   = "Sled over the whole plate"
  caution = [caution.plate_work]
  do = [
    "Set the sled's needle to zero in the middle of the plate.",
    "In each field push the sled about, slowly, and note the reading furthest from zero, with its sign.",
    "A needle that creeps while the sled stands is warmth: wait.",
  ]
  reading "wave" {
    each "field" { of = ["middle", "north_west", "north_east", "south_east", "south_west"] }
    ask      = "Sled, ${each.field}: reading furthest off"
    unit     = "um"
    with     = instrument.fine
    positive = "plunger pushed in"
    closure  = um(1.5)
    range    = [um(-90), um(90)] # less than a turn of the needle: one misread shows
  }
  result "waves" {
    title    = "Local readings differ by"
    value    = spread(reading.wave)
    unit     = "um"
    positive = "never below nothing"
  }
  gate "even" {
    title     = "Even within 250 mm"
    of        = result.waves
    at_most   = table.plate.local # W604: a plate of grade 0 wants a finer needle; the grades of a shop do not
    test      = "plate_local"
    if_failed = [correction.wipe, concession]
  }
}

correction "rest" {
  title    = "Clean, wait, survey again"
  do       = ["Clean plate and feet. Look for a burr. Let it stand."]
  disturbs = [gate.flat]
  attempts = 3
}

correction "support" {
  title    = "Put the three points where they belong"
  caution  = [caution.lifting]
  do       = ["Three points under the plate: two near one end, one in the middle of the other, a fifth of the length in."]
  disturbs = [gate.at_rest, gate.closes, gate.even]
  attempts = 1
}

correction "wipe" {
  title = "Clean plate and sled, go over it again"
  do = [
    "Wipe where the reading was off and feel for a nick: a raised edge comes off with a fine stone laid flat.",
    "Wipe the sled's feet.",
  ]
  attempts = 2
}

signoff "surveyor" { title = "Surveyed by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.surveyor
  concedes   = true
}

# One arc second in 300 mm, the same along all lines, is a dome of 4.5 µm over a
# diagonal of 1500 mm: 4.85e-6/300 mm · 1500² mm²/8.
rehearsal "a good plate of grade 1" {
  grade = "1"
  seeds = 20
  hidden {
    dome   = 1         # times one arc second in 300 mm
    warm   = kelvin(0.1)
    break  = arcsec(0) # of the line w_e in its middle: a grain under the foot
    nick   = um(0)     # in the north-west field
    saddle = 0         # what standing on wrong points adds to the dome
  }
  noise {
    angle_along = arcsec(0.1)
    wave        = um(0.3)
  }
  answer {
    length       = mm(1200)
    width        = mm(900)
    steps_long   = 8
    steps_wide   = 6
    steps_across = 10
    top          = celsius(20) + hidden.warm
    under        = celsius(20)
    angle_along = (arcsec(4) - arcsec(1) * (hidden.dome + hidden.saddle) * each.station / mm(300)
      + (each.line == "w_e" ? (each.station < mm(600) ? hidden.break : -hidden.break) : arcsec(0)))
    wave = each.field == "north_west" ? hidden.nick : um(0)
  }
  reacts "rest" {
    warm  = kelvin(0)
    break = arcsec(0)
  }
  reacts "support" { saddle = 0 }
  reacts "wipe" { nick = um(0) }
  ends {
    outcome = "accepted"
    rounds  = { rest = 0, support = 0, wipe = 0 }
  }
}

rehearsal "warmed by the sun" {
  like = "a good plate of grade 1"
  hidden { warm = kelvin(1.2) }
  ends {
    outcome = "accepted"
    rounds  = { rest = 1 }
  }
}

rehearsal "a shop that never cools" {
  like = "a good plate of grade 1"
  hidden { warm = kelvin(1.2) }
  reacts "rest" {}
  ends {
    outcome = "rejected"
    rounds  = { rest = 3 }
  }
}

rehearsal "a grain under the foot" {
  like = "a good plate of grade 1"
  hidden { break = arcsec(4) }
  ends {
    outcome = "accepted"
    rounds  = { rest = 1 }
  }
}

rehearsal "a line that never closes" {
  like = "a good plate of grade 1"
  hidden { break = arcsec(4) }
  reacts "rest" {}
  ends {
    outcome = "rejected"
    rounds  = { rest = 3 }
  }
}

rehearsal "standing on the wrong points" {
  like = "a good plate of grade 1"
  hidden { saddle = 4 }
  ends {
    outcome = "accepted"
    rounds  = { support = 1 }
  }
}

rehearsal "worn hollow" {
  like = "a good plate of grade 1"
  hidden { dome = -6 }
  ends {
    outcome = "conceded"
    rounds  = { support = 1 }
  }
}

rehearsal "at the limit, and a little of it from where it stands" {
  like  = "a good plate of grade 1"
  seeds = 8
  hidden {
    dome   = 2.4
    saddle = 0.66 # both together make 14 µm over the diagonal, where 14 are allowed
  }
  ends {
    outcome = "accepted"
    rounds  = { support = at_most(1) }
  }
}

rehearsal "a nick that is stoned off" {
  like = "a good plate of grade 1"
  hidden { nick = um(15) }
  ends {
    outcome = "accepted"
    rounds  = { wipe = 1 }
  }
}

rehearsal "a worn patch" {
  like = "a good plate of grade 1"
  hidden { nick = um(-15) }
  reacts "wipe" {}
  ends {
    outcome = "conceded"
    rounds  = { wipe = 2 }
  }
}

rehearsal "a patch at its limit" {
  like = "a good plate of grade 1"
  hidden { nick = um(-7.5) }
  reacts "wipe" {}
  ends { outcome = "conceded" }
}

rehearsal "an odd number of steps" {
  like = "a good plate of grade 1"
  answer { steps_wide = 5 }
  ends { outcome = "rejected" }
}

rehearsal "a turn of the sled's needle misread" {
  like = "a good plate of grade 1"
  mistake "turn" { of = reading.wave }
  ends {
    outcome = "accepted"
    rounds  = { wipe = 0 }
    said    = { wave = ["range"] }
  }
}
