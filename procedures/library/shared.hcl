# What the procedures of all machines share.

caution "rotating" {
  text   = "No gloves, rings, watch or loose sleeves near the turning spindle. Chuck key out."
  hazard = "rotating"
  source = "29 CFR 1910.212; HSE on gloves at machine tools"
}

caution "isolate" {
  text   = "Isolate, lock and try to start before hands go in."
  hazard = "energy"
  source = "29 CFR 1910.147"
}

caution "centres" {
  text   = "Centres clean, tailstock clamped, dog and carriage clear of each other over the whole travel."
  hazard = "falling"
  source = "trade practice"
}

caution "test_bar" {
  text   = "A bar in a taper can drop: keep a hand under it. Turn the spindle slowly, by hand."
  hazard = "falling"
  source = "TM 38-260, chapter 7"
}

caution "lapping" {
  text   = "Slowest speed. Hold the lap by its handle, so loose that it slips; never wrap a hand round the work. Stop to add compound."
  hazard = "rotating"
  source = "HSE on abrasive cloth at lathes"
}

caution "blue" {
  text   = "Marking blue and solvent: gloves while the spindle stands still, fresh air, rags in a metal bin."
  hazard = "skin"
  source = "HSE RR577"
}

instrument "micrometer" {
  kind       = "outside micrometer"
  resolution = um(1)
  error      = um(4)
  turn       = mm(0.5)
  source     = "DIN 863"

  repeatability = um(1) # standard deviation of one take, by a careful hand
}

instrument "comparator" {
  kind       = "bench comparator with a 0.5 µm indicator"
  resolution = um(0.5)
  error      = um(2)
  turn       = mm(0.1)

  repeatability = um(0.2)
}

instrument "lever" {
  kind       = "lever indicator of 0.002 mm"
  resolution = um(2)
  error      = um(4)
  turn       = mm(0.2)
  source     = "typical of DIN 2270; verify"

  repeatability = um(0.5)
}

# For run-outs and pulls of a few micrometres, where 0.002 mm is too coarse.
instrument "fine_lever" {
  kind       = "lever indicator of 0.001 mm"
  resolution = um(1)
  error      = um(3)
  turn       = mm(0.2)
  source     = "typical of DIN 2270; verify"

  repeatability = um(0.3)
}

instrument "thermometer" {
  kind          = "contact thermometer of 0.1 kelvin"
  resolution    = kelvin(0.1)
  error         = kelvin(1)
  repeatability = kelvin(0.2)
  source        = "typical of a shop's contact probe; verify"
}

instrument "level" {
  kind       = "precision level of 0.02 mm/m"
  resolution = um(5) / m(1)
  error      = um(5) / m(1)
  turn       = um(20) / m(1) # one division
  source     = "typical of DIN 877, verify; a quarter of a division is read"

  repeatability = um(2.5) / m(1) # standard deviation of one take, a quarter of a division read by eye; estimate
}

caution "chips" {
  text   = "Eye protection on, guards shut. Never clear swarf by hand; stop and use a hook or brush."
  hazard = "sharp"
  source = "29 CFR 1910.212; trade practice"
}

caution "sharp_edges" {
  text   = "Fresh collars and swarf are sharp, and the bar may be hot. Break the edges before measuring."
  hazard = "sharp"
  source = "trade practice"
}

caution "lifting" {
  text   = "Plan the lift: mass, centre of gravity, sling points, certified gear. Raise a little and pause. No hand or foot beneath."
  hazard = "falling"
  source = "HSE on lifting operations; local rules come first"
}

caution "scraping" {
  text   = "Scrapers are sharp: work held fast, push away from the body, eye protection on."
  hazard = "sharp"
  source = "trade practice"
}

caution "abrasive" {
  text   = "Cover the ways. Grit ruins a scraped bearing: brush and wipe it off, never blow it."
  hazard = "dust"
  source = "trade practice"
}

caution "chuck" {
  text   = "A chuck is heavy: board across the ways, carry it in a cradle. Key out before power."
  hazard = "falling"
  source = "trade practice"
}

caution "warm_up" {
  text   = "Nothing in the spindle, guards shut, chuck key out. Stay beside the machine while it runs."
  hazard = "rotating"
  source = "29 CFR 1910.212; trade practice"
}

caution "lead_paint" {
  text   = "Take old paint for lead paint until it is tested. No dry sanding, no burning off. Wet it, draw the dust off, bag the waste, wash before eating."
  hazard = "dust"
  source = "HSE on lead"
}

caution "asbestos" {
  text   = "Take old brake and clutch linings, gaskets and arc boards for asbestos. Never blow them out; wipe damp, bag the waste."
  hazard = "dust"
  source = "HSE on asbestos in mechanical repair"
}

caution "capacitors" {
  text   = "Capacitors hold their charge after the plug is out. Wait, then test for no voltage before a cover comes off."
  hazard = "energy"
  source = "trade practice; the maker's waiting time comes first"
}
