# For a plate that has an entry of its own among the machines: stood level,
# surveyed with a level, and lapped where it is high. For a plate that only has
# to be known before it serves a machine there is ref-plate-profile.
procedure "plate-eight-lines" {
  title    = "Surface plate set level, surveyed and lapped"
  machine  = "surface plate"
  revision = "1"
  purpose  = "Set a plate level on its three feet, survey it with a level along eight lines that must meet in the middle, and take down what is high. The same survey in other years shows how the plate wears."
  duration = hours(8)
  sources = [
    "the eight-line survey; see the reference page of plate()",
    "the lines tell the whole plate and not a dip between two of them: a sled with an indicator finds that (common practice)",
  ]
}

instrument "electronic_level" {
  kind       = "electronic level of 0.001 mm/m on a foot"
  resolution = um(1) / m(1)
  error      = um(2) / m(1)
  source     = "typical, verify"

  repeatability = um(0.5) / m(1) # standard deviation of one take, at rest; estimate
}

caution "stone_dust" {
  text   = "Stone dust harms the lungs for good. Lap wet, wipe wet, never sweep dry or blow. Gloves against the compound."
  hazard = "dust"
  source = "HSE on stone dust; trade practice"
}

given "length" {
  ask   = "Field: length, west to east"
  unit  = "mm"
  range = [mm(300), mm(3000)]
}
given "width" {
  ask   = "Field: width, south to north"
  unit  = "mm"
  range = [mm(200), mm(2000)]
}
given "foot" {
  ask   = "Level's foot: from support to support"
  unit  = "mm"
  range = [mm(40), mm(250)]
}
given "steps_long" {
  ask   = "Field's length: steps of the foot, even"
  count = true
  range = [2, 30]
}
given "steps_wide" {
  ask   = "Field's width: steps of the foot, even"
  count = true
  range = [2, 30]
}
given "steps_across" {
  ask   = "Diagonal: steps of the foot, even"
  count = true
  range = [2, 36]
}
given "feet_along" {
  ask   = "Feet: west foot to the two at the east"
  unit  = "mm"
  range = [mm(150), given.length]
}
given "feet_across" {
  ask   = "East feet: distance between them"
  unit  = "mm"
  range = [mm(100), given.width]
}

step "lines" {
  title = "Draw the eight lines"
  tools = [
    "electronic level on a foot that goes evenly into the lines",
    "straight strip as a guide, soft pencil",
    "two thermometers",
    "spanner for the feet",
  ]
  do = [
    "Leave a margin of a foot's width all round. What is inside is the field.",
    "Draw both diagonals, four edges, two centre lines. Mark every step.",
    "A foot that does not go evenly into a line ends beside the corner. Choose the field by the foot.",
  ]
  gate "even" {
    title     = "Every line has a mark in its middle"
    holds     = given.steps_long % 2 == 0 && given.steps_wide % 2 == 0 && given.steps_across % 2 == 0
    source    = "the eight-line survey: the middle is where the lines meet"
    if_failed = [reject]
  }
  gate "foot_fits" {
    title     = "The foot goes evenly into all lines"
    holds     = abs(given.steps_long * given.foot - given.length) <= mm(3) && abs(given.steps_wide * given.foot - given.width) <= mm(3) && abs(given.steps_across * given.foot - hypot(given.length, given.width)) <= mm(3)
    source    = "shop rule: within 3 mm"
    if_failed = [reject]
  }
}

step "rest" {
  title   = "Let the plate come to rest"
  caution = [caution.plate_work]
  do = [
    "Nothing on the plate, sun and lamps off it, nobody leaning on it.",
    "Wash it, and let the wet dry: a drying plate is cold on top and reads hollow.",
  ]
  reading "warm" {
    ask   = "Plate, ${each.side}: temperature"
    unit  = "celsius"
    with  = instrument.thermometer
    range = [celsius(10), celsius(32)]
    each "side" { of = ["top", "underside"] }
  }
  result "warmer" {
    title    = "Top against underside"
    value    = reading.warm.top - reading.warm.underside
    unit     = "kelvin"
    positive = "warmer on top: the plate crowns"
  }
  gate "at_rest" {
    title     = "Top and underside are alike"
    of        = result.warmer
    within    = plus_minus(kelvin(0.5))
    source    = "shop rule, estimate; both probes were put in one cup first"
    decision  = "simple"
    if_failed = [correction.wait_longer, reject]
  }
}

step "stand" {
  title = "Read how the plate stands"
  do = [
    "One foot is under the west end, two under the east end.",
    "Level in the middle of the plate. Plus where the end named in the question is high.",
    "Then turn it end for end on the same spot. Its number is still told by the plate's ends, not by its own.",
  ]
  reading "along_once" {
    ask      = "Middle, lengthwise: level"
    unit     = "um/m"
    with     = instrument.electronic_level
    positive = "east end high"
    range    = [-um(1500) / m(1), um(1500) / m(1)]
  }
  reading "along_turned" {
    like = reading.along_once
    ask  = "Middle, lengthwise, level turned round"
  }
  reading "across_once" {
    like     = reading.along_once
    ask      = "Middle, crosswise: level"
    positive = "north side high"
  }
  reading "across_turned" {
    like = reading.across_once
    ask  = "Middle, crosswise, level turned round"
  }
  result "rises_east" {
    title    = "Plate lengthwise"
    value    = level_slope(reading.along_once, reading.along_turned)
    unit     = "um/m"
    positive = "east end high"
  }
  result "rises_north" {
    title    = "Plate crosswise"
    value    = level_slope(reading.across_once, reading.across_turned)
    unit     = "um/m"
    positive = "north side high"
  }
  gate "level_along" {
    title     = "Level lengthwise"
    of        = result.rises_east
    within    = plus_minus(um(100) / m(1))
    source    = "shop rule: the level stays in the middle of its range"
    if_failed = [correction.west_foot, reject]
  }
  gate "level_across" {
    title     = "Level crosswise"
    of        = result.rises_north
    within    = plus_minus(um(100) / m(1))
    source    = "shop rule: the level stays in the middle of its range"
    if_failed = [correction.east_feet, reject]
  }
}

step "survey" {
  title   = "Survey line ${each.line}"
  caution = [caution.plate_work]
  do = [
    "From the first corner named to the other: nw_se runs from north-west to south-east, w_e from west to east.",
    "Foot against the strip, heel on the mark where the toe was. A skipped mark bends the whole line.",
    "Never turn the level within a line. Let it rest before it is read.",
    "Then back over the same steps, the level standing as it stood.",
  ]
  reading "slope" {
    ask       = "Line ${each.line}, heel at ${each.station}: level"
    unit      = "um/m"
    with      = instrument.electronic_level
    positive  = "end towards the second name high"
    range     = [-um(400) / m(1), um(400) / m(1)]
    both_ways = true
    along = (
      each.line == "nw_se" || each.line == "ne_sw" ? stations(mm(0), hypot(given.length, given.width) * (given.steps_across - 1) / given.steps_across, given.steps_across) :
      each.line == "nw_sw" || each.line == "ne_se" || each.line == "n_s" ? stations(mm(0), given.width * (given.steps_wide - 1) / given.steps_wide, given.steps_wide) :
      stations(mm(0), given.length * (given.steps_long - 1) / given.steps_long, given.steps_long)
    )
  }
  each "line" { of = ["nw_se", "ne_sw", "nw_ne", "sw_se", "nw_sw", "ne_se", "w_e", "n_s"] }
}

step "together" {
  title = "Put the lines together"

  result "allowed" {
    title    = "Allowed for the grade"
    value    = table.plate.constant + table.plate.growth * hypot(given.length, given.width)
    unit     = "um"
    positive = "never below nothing"
  }
  result "misses" {
    title    = "Centre line against the middle"
    value    = plate_closure(reading.slope, given.length, given.width)
    unit     = "um"
    positive = "above the middle that the diagonals give"
  }
  gate "lines_meet" {
    title     = "The centre lines meet the diagonals in the middle"
    of        = result.misses
    within    = plus_minus(um(1) + result.allowed / 4)
    source    = "shop rule, estimate: a quarter of what is allowed, and a micrometre"
    if_failed = [correction.survey_again, reject]
  }
  result "heights" {
    title    = "Heights, from the middle of the least zone"
    value    = from_zone(plate(reading.slope, given.length, given.width))
    unit     = "um"
    positive = "high"
    kept     = true
  }
  result "flat" {
    title    = "Flatness of the whole field"
    value    = flatness(result.heights, "minimum_zone")
    unit     = "um"
    positive = "never below nothing"
  }
  gate "flat_for_grade" {
    title     = "Flat for its grade"
    of        = result.flat
    at_most   = result.allowed
    source    = "typical of ISO 8512-2, verify"
    if_failed = [correction.lap, concession]
    test      = "plate_flatness"
  }
}

correction "wait_longer" {
  title    = "Wait an hour, read again"
  do       = ["Leave the plate alone. Look for the draught, the lamp, the sun."]
  attempts = 3
}

correction "west_foot" {
  title    = "Turn the foot at the west end"
  amount   = result.rises_east * given.feet_along
  unit     = "mm"
  positive = "west foot up"
  negative = "west foot down"
  caution  = [caution.plate_work]
  do       = ["Turn it with the spanner, the level watching. Never lift the plate by hand."]
  attempts = 4
  should_change {
    result = result.rises_east
    by     = -amount / given.feet_along
  }
}

correction "east_feet" {
  title    = "Turn both feet at the east end, one against the other"
  amount   = result.rises_north * given.feet_across / 2
  unit     = "mm"
  positive = "south-east foot up, north-east foot down, each by this"
  negative = "south-east foot down, north-east foot up, each by this"
  caution  = [caution.plate_work]
  do       = ["Half of each in turn, so that the plate never rocks."]
  attempts = 4
  should_change {
    result = result.rises_north
    by     = -2 * amount / given.feet_across
  }
}

correction "survey_again" {
  title    = "Clean, wait, survey all lines again"
  do       = ["The line that the gate names is the first to doubt: a skipped mark, a level turned round, a chip under the foot."]
  attempts = 2
  disturbs = [gate.at_rest]
}

# Twice the limit is as much as is lapped in place; above that the plate goes to somebody who laps plates.
correction "lap" {
  title    = "Lap down what is high"
  when     = result.flat <= 2.5 * result.allowed
  amount   = result.flat - result.allowed / 2
  unit     = "um"
  positive = "off the highest places; nothing off the lowest"
  caution  = [caution.stone_dust, caution.plate_work]
  do = [
    "The record of this run has a map of the heights: waywright report makes it now. Mark the high places from it.",
    "Short strokes in all directions, the lap on the high places only. Wash, and look with the level on the way.",
    "Wash off all compound. Lapping warms: the plate rests overnight.",
  ]
  attempts = 4
  ledger   = "top of the plate"
  disturbs = [gate.at_rest]
  should_change {
    result = result.flat
    by     = -amount
  }
}

signoff "surveyor" { title = "Surveyed by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.surveyor
  concedes   = true
}

rehearsal "a good plate" {
  seeds = 5
  grade = "1"
  # A crown: the middle above the corners. Skip is a slope too much at the first mark of one line.
  hidden {
    crown  = um(4)
    skip   = um(0) / m(1)
    east   = um(30) / m(1)
    north  = -um(40) / m(1)
    zero   = um(12) / m(1)
    warmth = kelvin(0.1)
  }
  noise {
    slope        = um(0.3) / m(1)
    along_once   = um(0.5) / m(1)
    along_turned = um(0.5) / m(1)
  }
  answer {
    length       = mm(800)
    width        = mm(600)
    foot         = mm(100)
    steps_long   = 8
    steps_wide   = 6
    steps_across = 10
    feet_along   = mm(500)
    feet_across  = mm(360)
    warm         = each.side == "top" ? celsius(20) + hidden.warmth : celsius(20)

    along_once    = hidden.east + hidden.zero
    along_turned  = hidden.east - hidden.zero
    across_once   = hidden.north + hidden.zero
    across_turned = hidden.north - hidden.zero
    slope = hidden.zero + (each.line == "w_e" && each.station < mm(1) ? hidden.skip : 0) - 8 * hidden.crown / mm(1000) * (
      each.line == "nw_se" || each.line == "ne_sw" ? (each.station - mm(450)) / mm(1000) :
      each.line == "nw_sw" || each.line == "ne_se" || each.line == "n_s" ? (each.station - mm(250)) / mm(1000) :
      (each.station - mm(350)) / mm(1000)
    )
  }
  reacts "wait_longer" { warmth = hidden.warmth / 3 }
  reacts "west_foot" { east = hidden.east - moved / given.feet_along }
  reacts "east_feet" { north = hidden.north - 2 * moved / given.feet_across }
  reacts "survey_again" { skip = um(0) / m(1) }
  # What is high is the middle of a crowned plate, and the rim of a hollow one.
  reacts "lap" { crown = hidden.crown > um(0) ? hidden.crown - moved : hidden.crown + moved }
  ends {
    outcome = "accepted"
    rounds  = { wait_longer = 0, west_foot = 0, east_feet = 0, survey_again = 0, lap = 0 }
  }
}

rehearsal "warm on top, out of level, high in the middle" {
  like  = "a good plate"
  seeds = 3
  hidden {
    crown  = um(19)
    east   = um(700) / m(1)
    north  = -um(520) / m(1)
    warmth = kelvin(1.2)
  }
  ends {
    outcome = "accepted"
    rounds  = { wait_longer = at_least(1), west_foot = 1, east_feet = 1, lap = at_most(2) }
  }
}

rehearsal "the other way out of level, worn hollow" {
  like  = "a good plate"
  seeds = 3
  hidden {
    crown = -um(17)
    east  = -um(450) / m(1)
    north = um(300) / m(1)
  }
  ends {
    outcome = "accepted"
    rounds  = { west_foot = 1, east_feet = 1, lap = at_most(2) }
  }
}

rehearsal "the feet turned the wrong way first" {
  like = "the other way out of level, worn hollow"
  mistake "wrong_way" { of = correction.east_feet }
  ends {
    outcome = "accepted"
    rounds  = { west_foot = 1, east_feet = 2 }
    said    = { east_feet = ["wrong_way"] }
  }
}

rehearsal "a mark skipped on one line" {
  like = "a good plate"
  # Caught where the lines meet, before anything is lapped.
  hidden {
    skip = um(110) / m(1)
  }
  ends {
    outcome = "accepted"
    rounds  = { survey_again = 1, lap = 0 }
  }
}

rehearsal "a mark skipped, so little that it could be either" {
  like = "a good plate"
  hidden {
    skip = um(75) / m(1)
  }
  ends {
    outcome = "accepted"
    rounds  = { survey_again = 1 }
  }
}

rehearsal "at the edge of the grade" {
  like = "a good plate"
  # So near the limits that the readings cannot show on which side.
  hidden {
    crown = um(11)
    east  = um(100) / m(1)
    north = -um(100) / m(1)
  }
  ends {
    outcome = "accepted"
    rounds  = { west_foot = 1, east_feet = 1, lap = 1 }
  }
}

rehearsal "a plate for somebody who laps plates" {
  like = "a good plate"
  hidden {
    crown = um(45)
  }
  ends {
    outcome = "conceded"
    rounds  = { lap = 0 }
    out     = [gate.flat_for_grade]
  }
}

rehearsal "a lap that takes nothing off" {
  like = "at the edge of the grade"
  reacts "lap" { crown = hidden.crown }
  ends {
    outcome = "conceded"
    rounds  = { west_foot = 1, east_feet = 1, lap = 4 }
    out     = [gate.flat_for_grade]
  }
}

rehearsal "a line that never meets the others" {
  like = "a mark skipped on one line"
  reacts "survey_again" { skip = hidden.skip }
  ends {
    outcome = "rejected"
    rounds  = { survey_again = 2 }
    out     = [gate.lines_meet, gate.flat_for_grade]
  }
}

rehearsal "sun on the plate all day" {
  like = "a good plate"
  hidden {
    warmth = kelvin(2)
  }
  reacts "wait_longer" { warmth = hidden.warmth }
  ends {
    outcome = "rejected"
    rounds  = { wait_longer = 3 }
    out     = [gate.at_rest, gate.level_along, gate.level_across, gate.lines_meet, gate.flat_for_grade]
  }
}

rehearsal "the west foot is seized" {
  like = "the other way out of level, worn hollow"
  reacts "west_foot" { moved = um(0) }
  ends {
    outcome = "rejected"
    rounds  = { west_foot = 4 }
    out     = [gate.level_along, gate.level_across, gate.lines_meet, gate.flat_for_grade]
  }
}

rehearsal "the east feet are seized" {
  like = "the other way out of level, worn hollow"
  reacts "east_feet" { moved = um(0) }
  ends {
    outcome = "rejected"
    rounds  = { east_feet = 4 }
    out     = [gate.level_across, gate.lines_meet, gate.flat_for_grade]
  }
}

rehearsal "a line without a mark in its middle" {
  like = "a good plate"
  answer { steps_long = 7 }
  ends {
    outcome = "rejected"
    out = [
      gate.even,
      gate.foot_fits,
      gate.at_rest,
      gate.level_along,
      gate.level_across,
      gate.lines_meet,
      gate.flat_for_grade,
    ]
  }
}

rehearsal "a foot that does not go evenly" {
  like = "a good plate"
  answer { foot = mm(90) }
  ends {
    outcome = "rejected"
    out     = [gate.foot_fits, gate.at_rest, gate.level_along, gate.level_across, gate.lines_meet, gate.flat_for_grade]
  }
}
