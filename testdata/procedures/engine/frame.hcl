# Three members of a frame, each read in a step of its own. What a correction
# spoils follows what its gates stand on, not the order of the steps.

procedure "frame" {
  title    = "Three members of a frame"
  machine  = "any"
  revision = "1"
  purpose  = "Read the sill, the post, and the lintel against the sill."
  decision = "simple"
}

instrument "gauge" {
  kind          = "bench comparator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
}

step "sill" {
  title = "Read the sill"
  reading "low" {
    ask      = "Sill: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-200), um(200)]
  }
  result "sag" {
    title    = "Sill above the datum"
    value    = reading.low
    unit     = "um"
    positive = "high"
  }
  gate "straight" {
    title     = "The sill is straight"
    of        = result.sag
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [correction.wedge, reject]
  }
}

step "post" {
  title = "Read the post"
  reading "lean" {
    ask      = "Post: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "leans out"
    range    = [um(-200), um(200)]
  }
  gate "upright" {
    title     = "The post is upright"
    of        = reading.lean
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [correction.plumb, reject]
  }
}

step "lintel" {
  title = "Read the lintel"
  reading "high" {
    ask      = "Lintel: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-200), um(200)]
  }
  result "gap" {
    title    = "Lintel above the sill"
    value    = reading.high - result.sag
    unit     = "um"
    positive = "high"
  }
  gate "clear" {
    title     = "The lintel clears the sill"
    of        = result.gap
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [correction.pack, reject]
  }
}

correction "wedge" {
  title    = "Wedge the sill"
  do       = ["Drive the wedge."]
  attempts = 3
}
correction "plumb" {
  title    = "Plumb the post"
  do       = ["Plumb the post."]
  disturbs = [gate.clear]
  attempts = 3
}
correction "pack" {
  title    = "Pack the lintel"
  do       = ["Pack the lintel."]
  attempts = 3
}

signoff "fitter" { title = "Carried out by" }
