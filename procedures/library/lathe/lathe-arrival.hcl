# The lathe as it comes through the door: pictures and numbers before anything is
# touched, power off and locked, paint and linings, and a lift that is thought
# through. What is not written down now can never be proved again.

procedure "lathe-arrival" {
  title    = "Lathe received, made safe and put in its place"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Record the lathe as it arrives, and make it safe to work on: power, paint, linings, lifting. Nothing is measured yet and nothing is taken apart."
  decision = "simple"
  duration = hours(2)
  sources = [
    "power, paint, linings, lifting: HSE and OSHA guidance; local rules come first",
    "lifting gear a quarter stronger than the load: shop rule, estimate",
  ]
}

given "inverter" {
  ask    = "Drive: is there an inverter or converter?"
  choose = ["yes", "no"]
}

step "papers" {
  title   = "Pictures and numbers, before anything is touched"
  lasting = true
  tools   = ["camera", "torch", "tape measure"]
  do = [
    "Do not clean it, do not run it, do not move a slide yet.",
    "Photograph it from all sides, and every plate that can be read.",
  ]
  reading "photo" {
    each "view" { of = ["front", "rear", "headstock", "tailstock", "bed", "plate"] }
    ask      = "Photograph of the ${each.view}"
    evidence = true
  }
  reading "serial" {
    ask  = "Plate: maker and serial number"
    text = true
  }
  reading "with_it" {
    ask  = "With it: chucks, rests, change gears"
    text = true
  }
  reading "damage" {
    ask  = "Damage and missing parts, as seen"
    text = true
  }
}

step "power" {
  title   = "Power off, locked and tried"
  spindle = "stopped"
  caution = [caution.isolate, caution.capacitors]
  do      = ["Switch off at the wall, unplug or lock off, hang your tag on it.", "Try to start it: nothing may move."]
  confirm "dead" { ask = "Locked off, tried, and nothing moves?" }
  reading "cable" {
    ask    = "Cables, plug and earth: how do they look?"
    choose = ["sound", "doubtful"]
  }
  gate "wired" {
    title     = "Wiring sound, or not to be switched on"
    holds     = reading.cable == "sound"
    source    = "common practice: doubtful wiring is for an electrician, before the first start"
    if_failed = [correction.electrician, concession]
  }
}

step "charge" {
  title   = "Let the drive lose its charge"
  when    = given.inverter == "yes"
  spindle = "stopped"
  caution = [caution.capacitors]
  wait "discharge" {
    why      = "the capacitors of the drive hold their charge"
    at_least = minutes(5)
  }
  confirm "no_voltage" { ask = "Tested: no voltage left in the drive?" }
}

step "dust" {
  title   = "Paint and linings"
  spindle = "stopped"
  caution = [caution.lead_paint, caution.asbestos]
  do = [
    "Test the paint with a lead test at a hidden place, down to the metal.",
    "Look for a brake, a clutch, old gaskets, boards behind switches.",
  ]
  reading "paint" {
    ask    = "Paint: what does the lead test say?"
    choose = ["no lead", "lead", "not tested"]
  }
  reading "paint_work" {
    ask    = "Paint: how will it be worked?"
    choose = ["left alone", "wet, dust drawn off, waste bagged", "dry sanded or burnt off"]
  }
  gate "paint_safe" {
    title     = "Paint is not turned into dust"
    holds     = reading.paint == "no lead" || reading.paint_work != "dry sanded or burnt off"
    source    = "HSE on lead"
    if_failed = [correction.paint_plan, reject]
  }
  reading "linings" {
    ask    = "Brake, clutch, gaskets, boards: asbestos?"
    choose = ["none fitted", "known to be free of it", "taken for asbestos"]
  }
  reading "linings_work" {
    ask    = "Linings: how will they be cleaned?"
    choose = ["left alone", "wiped damp, waste bagged", "blown out with air"]
  }
  gate "linings_safe" {
    title     = "Linings are not blown out"
    holds     = reading.linings != "taken for asbestos" || reading.linings_work != "blown out with air"
    source    = "HSE on asbestos in mechanical repair"
    if_failed = [correction.linings_plan, reject]
  }
}

step "plan" {
  title   = "Think the lift through"
  spindle = "stopped"
  caution = [caution.lifting]
  do = [
    "Mass of ${reading.serial}: from the plate or the maker's book, with all that stays on it.",
    "Lathes are heavy at the headstock and tip to the front. Carriage and tailstock are locked or off.",
    "Walk the way: floor, doors, slope, where it is set down.",
  ]
  reading "mass" {
    ask   = "Lathe: mass, with all that stays on it"
    unit  = "kg"
    range = [kilogram(30), kilogram(8000)]
  }
  reading "gear" {
    ask   = "Weakest part of the gear: safe working load"
    unit  = "kg"
    range = [kilogram(30), kilogram(20000)]
  }
  result "strength" {
    title    = "Gear, against the load"
    value    = reading.gear / reading.mass
    unit     = "%"
    positive = "never below nothing"
  }
  gate "gear_strong" {
    title     = "Lifting gear a quarter stronger than the load"
    of        = result.strength
    at_least  = percent(125)
    source    = "shop rule, estimate; HSE on lifting operations asks for marked gear that is strong enough"
    if_failed = [correction.other_gear, reject]
  }
  confirm "marked" { ask = "Slings, shackles, crane: marked, sound, in date?" }
}

step "lift" {
  title      = "Lift it and set it down"
  hold_point = signoff.inspector # a second person looks at plan and slinging
  spindle    = "stopped"
  caution    = [caution.lifting]
  do = [
    "Raise it by 50 mm (2 in), pause, look: level, nothing slips, nothing bends.",
    "Set it down on its feet or on blocks. Never lift by spindle, slides or leadscrew.",
    "Then look it over. As it came: ${reading.damage}. With it came: ${reading.with_it}.",
  ]
  confirm "down" { ask = "Set down, all feet bearing, nobody hurt?" }
  reading "look_again" {
    ask    = "Against the list of damage: how is it now?"
    choose = ["as it came", "worse: it is noted"]
  }
  gate "unharmed" {
    title     = "The move has done no harm"
    holds     = reading.look_again == "as it came"
    source    = "common practice: carrier and insurer are told at once"
    if_failed = [concession]
  }
}

correction "electrician" {
  title    = "Have the wiring seen to"
  do       = ["Plug off and kept locked away. An electrician makes it sound and tests the earth.", "Then look again."]
  spindle  = "stopped"
  caution  = [caution.isolate, caution.capacitors]
  attempts = 2
}

correction "paint_plan" {
  title    = "Choose another way to work the paint"
  do       = ["Leave it, or wet it, draw off the dust and bag the waste. Or have it tested."]
  attempts = 3
}

correction "linings_plan" {
  title    = "Choose another way to clean the linings"
  do       = ["Leave them, or wipe them damp and bag the waste. Or find out what they are made of."]
  attempts = 3
}

correction "other_gear" {
  title    = "Stronger gear, or a lighter load"
  do       = ["Take stronger gear, or take off what comes off: tailstock, chuck, carriage, motor. Weigh or look up again."]
  spindle  = "stopped"
  caution  = [caution.lifting]
  attempts = 3
}

signoff "fitter" { title = "Received by" }

signoff "inspector" {
  title      = "Lift released by, and seen by"
  other_than = signoff.fitter
  concedes   = true
}

rehearsal "a lathe that comes in order" {
  hidden {
    cable   = 1 # sound
    paint   = 1 # worked wet
    linings = 1 # wiped damp
    gear    = kilogram(1000)
    mass    = kilogram(620)
    bent    = 0 # in the lift
  }
  answer {
    inverter     = "yes"
    photo        = "${each.view}.jpg"
    serial       = "Brook and Sons, 1180"
    with_it      = "three-jaw chuck, fixed steady, eleven change gears"
    damage       = "chip out of the tailstock handwheel; gear guard missing"
    cable        = hidden.cable == 1 ? "sound" : "doubtful"
    paint        = "not tested"
    paint_work   = hidden.paint == 1 ? "wet, dust drawn off, waste bagged" : "dry sanded or burnt off"
    linings      = "taken for asbestos"
    linings_work = hidden.linings == 1 ? "wiped damp, waste bagged" : "blown out with air"
    mass         = hidden.mass
    gear         = hidden.gear
    look_again   = hidden.bent == 1 ? "worse: it is noted" : "as it came"
  }
  reacts "electrician" { cable = 1 }
  reacts "paint_plan" { paint = 1 }
  reacts "linings_plan" { linings = 1 }
  reacts "other_gear" { gear = kilogram(2000) }
  ends {
    outcome = "accepted"
    rounds  = { electrician = 0, paint_plan = 0, linings_plan = 0, other_gear = 0 }
  }
}

rehearsal "everything would have been done wrongly, and is not" {
  like = "a lathe that comes in order"
  hidden {
    cable   = 0
    paint   = 0
    linings = 0
    gear    = kilogram(500)
  }
  ends {
    outcome = "accepted"
    rounds  = { electrician = 1, paint_plan = 1, linings_plan = 1, other_gear = 1 }
  }
}

rehearsal "a small lathe without a drive, its wiring left for later" {
  like = "a lathe that comes in order"
  hidden {
    cable = 0
    mass  = kilogram(90)
    bent  = 1
  }
  answer {
    inverter = "no"
    paint    = "no lead"
    linings  = "none fitted"
  }
  reacts "electrician" {}
  ends {
    outcome = "conceded"
    rounds  = { electrician = 2 }
  }
}

rehearsal "gear too weak, and no other to be had" {
  like = "a lathe that comes in order"
  hidden { gear = kilogram(500) }
  reacts "other_gear" {}
  ends {
    outcome = "rejected"
    rounds  = { other_gear = 3 }
  }
}

rehearsal "the paint is to be sanded dry, come what may" {
  like = "a lathe that comes in order"
  hidden { paint = 0 }
  reacts "paint_plan" {}
  ends { outcome = "rejected" }
}

rehearsal "the linings are to be blown out, come what may" {
  like = "a lathe that comes in order"
  hidden { linings = 0 }
  reacts "linings_plan" {}
  ends { outcome = "rejected" }
}
