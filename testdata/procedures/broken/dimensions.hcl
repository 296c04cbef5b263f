# Kinds and dimensions.
procedure "dimensions" {
  title    = "Dimensions that do not agree"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of dimensions."
}

given "span" {
  ask   = "Span"
  unit  = "mm"
  range = [deg(1), mm(400)] ### "Wrong dimension for its place"
}
given "turns" {
  ask   = "Turns"
  count = true
  range = [mm(1), 5] ### "Wrong dimension for its place"
}
given "backwards" {
  ask   = "Backwards"
  unit  = "mm"
  range = [mm(9), mm(1)] ### "Out of bounds"
}

step "read" {
  title = "Read"

  reading "heat" {
    ask   = "Temperature"
    unit  = "celsius"
    range = [celsius(10), kelvin(30)] ### "Wrong kind for its place"
  }
  reading "height" {
    ask     = "Height"
    unit    = "um"
    with    = instrument.level ### "Unit does not fit"
    along   = [mm(0), mm(100), mm(200)]
    closure = deg(1) ### "Wrong dimension for its place"
    range   = [um(-10), um(10)]
  }
  reading "round" {
    ask    = "Needle"
    unit   = "um"
    around = [mm(1), mm(2)] ### "Unit does not fit"
    range  = [um(-10), um(10)]
  }
  reading "steps" {
    ask    = "Needle"
    unit   = "um"
    around = 1 ### "Out of bounds"
    range  = [um(-10), um(10)]
  }
  reading "both" {
    ask    = "Needle"
    unit   = "um"
    along  = [mm(1), mm(2)]
    around = 8 ### "These cannot stand together"
    range  = [um(-10), um(10)]
  }
  reading "single" {
    ask       = "Needle"
    unit      = "um"
    closure   = um(2) ### "Needs something that is not there"
    both_ways = true ### "Needs something that is not there"
    repeat    = 0 ### "Out of bounds"
    range     = [um(-10), um(10)]
  }
  reading "end" {
    ask    = "Which end?"
    choose = ["large", "small"]
  }

  result "sum" {
    title    = "A length and an angle"
    value    = given.span + deg(1) ### "Dimensions do not agree"
    unit     = "mm"
    positive = "large"
  }
  result "hot" {
    title    = "Two temperatures"
    value    = reading.heat + celsius(20) ### "Temperatures only have differences"
    unit     = "celsius"
    positive = "warm"
  }
  result "bare" {
    title    = "A nothing without its unit"
    value    = given.span > 0 ? given.span : mm(1) ### "Zero needs its unit"
    unit     = "mm"
    positive = "large"
  }
  result "word" {
    title = "A word that is no choice"
    value = reading.end == "lrge" ### "Not one of the choices"
  }
  result "tenth" {
    title    = "A position"
    value    = reading.height[0] ### "An index is a key"
    unit     = "um"
    positive = "high"
  }
  result "branches" {
    title    = "Two branches"
    value    = given.turns > 2 ? mm(1) : deg(1) ### "Branches do not agree"
    unit     = "mm"
    positive = "large"
  }
  result "unitless" { ### "Something is missing"
    title    = "Without a unit"
    value    = given.span
    positive = "large"
  }
  result "angle" {
    title    = "A length shown as an angle"
    value    = given.span
    unit     = "deg" ### "Unit does not fit"
    positive = "large"
  }
  result "texted" {
    title    = "A word with a unit"
    value    = reading.end
    unit     = "mm" ### "Unit does not fit"
    positive = "large"
  }
  result "limit" {
    title    = "A zone is no value"
    value    = plus_minus(um(3)) ### "Unit does not fit"
    unit     = "um"
    positive = "large"
  }

  gate "span_right" {
    title     = "A length held against an angle"
    of        = given.span
    at_most   = arcsec(12) ### "Limit has the wrong dimension"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "span_zone" {
    title     = "A zone where a limit belongs"
    of        = given.span
    at_most   = plus_minus(mm(1)) ### "Limit has the wrong dimension"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "span_within" {
    title     = "A limit where a zone belongs"
    of        = given.span
    within    = mm(1) ### "Limit has the wrong dimension"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "heat_right" {
    title     = "A temperature held against a difference"
    of        = reading.heat
    at_most   = kelvin(3) ### "Wrong kind for its place"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "word_right" {
    title     = "A word held against a limit"
    of        = reading.end ### "Wrong kind for its place"
    at_most   = mm(3)
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "true" {
    title     = "A length that holds"
    holds     = given.span ### "Wrong kind for its place"
    source    = "shop rule"
    if_failed = [reject]
  }
}
