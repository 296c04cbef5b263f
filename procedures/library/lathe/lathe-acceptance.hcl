# The tests of a centre lathe in one sitting, at one temperature, for the buyer.
# Nothing is corrected here: what fails is mended by the procedure that its gate
# names, and then the lathe comes back. Each set-up is made once: level on the
# bed; a stand for the nose and the screw's end; the tool post for the bar in the
# taper, the top slide, the barrel and the bar between centres; a collar bar; a disc.

procedure "lathe-acceptance" {
  title    = "Acceptance of a centre lathe, in one sitting"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Read the agreed tests of the finished lathe once, in one day and at one temperature, so that fitter and buyer can sign. It mends nothing: a test that fails names the procedure that does."
  decision = "guarded"
  duration = hours(7)

  if_failed = [concession]
  sources = [
    "choice and order of tests: common practice; six to eight hours for a lathe of usual size",
    "limits: typical of ISO 1708:1989, verify against the text you hold",
    "the middle of the needle's greatest and least is the axis, free of run-out: common practice",
  ]
}

given "bridge" { like = given.bridge }
given "span" { like = given.span }
given "bar_diameter" { like = given.bar_diameter }
given "radius" { like = given.radius }
given "barrel" { like = given.barrel }
given "between" { like = given.between }
given "collars" { like = given.collars }
given "disc" {
  ask   = "Disc: diameter where the rim is read"
  unit  = "mm"
  range = [mm(60), mm(600)]
}

# --- agreed beforehand ---

step "agree" {
  title   = "Agree what is tested, and how"
  spindle = "stopped"
  caution = [caution.isolate, caution.chuck, caution.lifting]
  lasting = true
  tools = [
    "precision level and bridge; lever indicator of 0.001 mm (0.00005 in); micrometer; thermometer",
    "proved bar for the spindle taper; ground bar between its own centres",
    "collar bar, at least an eighth of the swing thick; cast-iron disc, half the swing across",
  ]
  do = [
    "Read the list of tests and limits together before the first of them. What is agreed now is not argued about later.",
    "Machine on its feet as it will stay, and in one temperature since yesterday. No sun on it, doors shut.",
    "Carriage and tailstock at the headstock end. Gibs, belts and clamps as in use.",
  ]
  confirm "agreed" { ask = "Tests, grade and instruments: agreed by both?" }
  reading "air_before" {
    ask   = "Shop's air beside the machine: temperature"
    unit  = "celsius"
    with  = instrument.thermometer
    range = [celsius(5), celsius(40)]
  }
}

# --- the set-ups, in the order that mounts each thing once ---

step "bed" {
  like  = step.bed
  needs = [step.agree]
}

# It is warm by the clock.
step "warm" {
  title    = "Warm the spindle"
  spindle  = "turning"
  good_for = hours(3)
  caution  = [caution.rotating, caution.warm_up]
  do       = ["Chuck off, middle speed. Listen to it meanwhile; feel the bearing housings with the flat of the hand."]
  wait "running" {
    why      = "a cold spindle lies differently"
    at_least = minutes(20)
  }
}

step "nose" {
  like  = step.nose
  needs = [step.warm]
}
step "screw" {
  like  = step.screw
  needs = [step.warm]
}
step "bar" {
  like  = step.bar
  needs = [step.warm]
}
step "quill" {
  like  = step.quill
  needs = [step.warm]
}
# The same indicator, on its arm as it was tested at the bar in the spindle.
step "centres" {
  like  = step.centres
  needs = [step.warm]
  reading "upper" { tested = reading.top }
}
step "turn" { like = step.turn }
step "collar_bar" {
  like  = step.collar_bar
  needs = [step.turn]
}

# --- a disc ---

step "face_disc" {
  title   = "Face the disc"
  spindle = "turning"
  caution = [caution.lifting, caution.rotating, caution.chips]
  do = [
    "While the spindle still stands: disc on and held fast. Turn it once round by hand: clear of saddle and tool post.",
    "Saddle locked. Stand aside of the disc while it comes up to speed.",
    "Depth 0.1 mm (0.004 in) at most, power feed 0.1 mm (0.004 in) a turn, in one go from the rim inwards.",
  ]
  confirm "saddle_locked" { ask = "Saddle: locked, and not moved since the cut?" }
}

step "rims" {
  title   = "Read the disc past its centre"
  needs   = [step.face_disc]
  spindle = "stopped"
  caution = [caution.isolate, caution.sharp_edges]
  do = [
    "Indicator in the tool post. Needle to zero at the rim on your side.",
    "Wind the cross slide only, across the centre, to the far rim. Do not turn the spindle.",
  ]
  reading "rim" {
    each "side" { of = ["near", "far"] }
    ask      = "Face, ${each.side} rim: reading"
    unit     = "um"
    with     = instrument.fine_lever
    positive = "face towards the tailstock"
    nudge    = "towards the tailstock"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    closure  = um(2)
    range    = [um(-90), um(90)]
  }
  result "far_rim" {
    title    = "Far rim less near rim"
    value    = reading.rim.far - reading.rim.near
    unit     = "um"
    positive = "hollow"
  }
  result "depth" {
    title    = "Middle of the disc below its rim"
    value    = facing_depth(result.far_rim)
    unit     = "um"
    positive = "hollow"
  }
  gate "faces_hollow" {
    title    = "Faces flat or hollow, never crowned"
    of       = result.depth
    within   = between(um(0), scaled(table.lathe.faced, mm(300), given.disc, um(5), um(1)))
    test     = "faced"
    upstream = [accepted["facing-disc"], accepted["cross-slide-square"]]
  }
  # The reading past the centre is the slope over the whole disc, not its depth.
  gate "square" {
    title    = "Cross slide square to the axis, or facing hollow"
    of       = result.far_rim
    within   = between(um(0), scaled(table.lathe.cross_slide, mm(300), given.disc, um(5), um(1)))
    test     = "cross_slide"
    upstream = [accepted["cross-slide-square"], accepted["gib-backlash"]]
  }
}

step "close" {
  title   = "Close the sitting"
  spindle = "stopped"
  reading "air_after" {
    ask   = "Shop's air beside the machine: temperature"
    unit  = "celsius"
    with  = instrument.thermometer
    range = [celsius(5), celsius(40)]
  }
  result "warmer" {
    title    = "Shop's air, end less beginning"
    value    = reading.air_after - reading.air_before
    unit     = "kelvin"
    positive = "warmer"
  }
  gate "one_temperature" {
    title    = "One temperature all the time"
    of       = result.warmer
    within   = plus_minus(kelvin(2))
    decision = "simple" # a check of the sitting, not of the machine
    source   = "shop rule, estimate"
  }
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted for the buyer by"
  other_than = signoff.fitter
  concedes   = true
}

rehearsal "a good machine" {
  like  = "a good lathe"
  seeds = 20
  hidden {
    depth  = um(3)
    warmer = kelvin(0.5)
  }
  noise { rim = um(0.2) }
  answer {
    disc       = mm(200)
    air_before = celsius(19.5)
    air_after  = celsius(19.5) + hidden.warmer
    rim        = each.side == "far" ? 2 * hidden.depth : um(0)
  }
  ends { outcome = "accepted" }
}

# Nothing is mended here, so nothing is cut in vain: every test that fails names
# the procedure that mends it.
rehearsal "everything out" {
  like  = "a good machine"
  seeds = 3
  hidden {
    twist   = um(150) / m(1)
    crown   = um(100) / m(1)
    slip    = um(20)
    cam     = um(40)
    nose    = um(25)
    near    = um(25)
    far     = um(45)
    level   = um(-12)
    upright = um(-15)
    q_level = um(-12)
    q_up    = um(-15)
    centre  = um(35)
    swerve  = um(40)
    tail    = um(-40)
    screw   = um(40)
    oval    = um(40)
    taper   = um(30)
    dips    = um(20)
    depth   = um(-9)
    warmer  = kelvin(3)
  }
  ends { outcome = "conceded" }
}

rehearsal "everything just at its limit" {
  like  = "a good machine"
  seeds = 3
  hidden {
    twist   = um(40) / m(1)
    crown   = um(47) / m(1)
    slip    = um(10)
    cam     = um(20)
    nose    = um(10)
    near    = um(10)
    far     = um(18)
    level   = um(0)
    upright = um(0)
    q_level = um(0)
    q_up    = um(0)
    centre  = um(15)
    swerve  = um(15)
    tail    = um(0)
    screw   = um(15)
    oval    = um(20)
    taper   = um(0)
    dips    = um(8)
    depth   = um(0)
  }
  ends { outcome = "conceded" }
}

rehearsal "the needle on the bar reads the other way round" {
  like  = "a good machine"
  seeds = 5
  mistake "reversed" { of = reading.front }
  ends { outcome = "accepted" }
}

rehearsal "a collar misread by a turn of the thimble, found by the closing reading" {
  like  = "a good machine"
  seeds = 5
  mistake "turn" { of = reading.collar }
  ends {
    outcome = "accepted"
    said    = { collar = ["void"] }
  }
}

rehearsal "a shop that warms up meanwhile" {
  like = "a good machine"
  hidden { warmer = kelvin(4) }
  ends { outcome = "conceded" }
}
