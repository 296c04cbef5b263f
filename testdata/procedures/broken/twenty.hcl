# Twenty mistakes of all kinds, each told once: nothing stops at the first.
procedure "twenty" {
  title    = "Twenty mistakes"
  machine  = "centre lathe"
  revision = "1"
  purpos   = "Show that reading goes on." ### "Unknown attribute"
  decision = "safe" ### "Not one of the words"
}

given "span" {
  ask   = "Collars: distance"
  unit  = "milimetres" ### "Unknown unit"
  range = [mm(50), mm(300)]
}

given "bar" {
  ask   = "Bar: diameter"
  unit  = "mm"
  range = [deg(20), mm(80)] ### "Wrong dimension for its place"
}

given "bar" { ### "Name is taken"
  ask    = "Which bar?"
  choose = ["long", "short"]
}

step "cut" {
  title   = "Cut both collars"
  spindle = "turns" ### "Not one of the words"
  caution = [caution.rotatng] ### "Unknown name"
  do      = ["One pass over both." "Stop."] ### "Cannot be read as HCL"
}

step "measure" {
  title = "Measure both collars"
  needs = [step.judge] ### "Used above its place"

  reading "near" {
    ask    = "Headstock-end collar: diameter"
    unit   = "mm"
    repeat = 0 ### "Out of bounds"
    with   = instrument.micrometer
    range  = [mm(5), mm(120)]
  }
  reading "far" {
    ask   = "Tailstock-end collar: diameter"
    unit  = "mm"
    with  = instrument.level ### "Unit does not fit"
    range = [mm(5), mm(120)]
  }
  reeding "end" { ### "Unknown block"
    ask = "Which end?"
  }
  result "taper" {
    title    = "Taper"
    value    = reading.far-reading.near ### "Hyphen is part of the name"
    unit     = "um"
    positive = "larger at the tailstock end"
  }
  result "sum" {
    title    = "A sum that means nothing"
    value    = reading.far + arcsec(3) ### "Dimensions do not agree"
    unit     = "mm"
    positive = "large"
  }
}

step "judge" {
  title = "Judge"
  gate "parallel" {
    title     = "The bar turns parallel"
    of        = reading.far
    at_most   = arcsec(12) ### "Limit has the wrong dimension"
    source    = "common practice"
    if_failed = [correction.set_over, concession] ### "Nobody grants concessions"
  }
  gate "zone" { ### "Something is missing"
    title     = "A gate without a limit"
    of        = reading.near
    source    = "common practice"
    if_failed = [correction.set_over, reject]
  }
  gate "endless" {
    title     = "A gate without an end"
    of        = reading.near
    at_most   = mm(100)
    source    = "common practice"
    if_failed = [correction.set_over] ### "Gate has no way on"
  }
}

correction "set_over" {
  title    = "Set the tailstock over"
  amount   = reading.near / 2
  unit     = "arcsec" ### "Unit does not fit"
  positive = "towards the operator"
}

signoff "fitter" {
  title      = "Carried out by"
  other_than = signoff.inspecter ### "Unknown name"
}
