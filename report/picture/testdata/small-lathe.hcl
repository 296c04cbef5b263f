# All that a picture is made of: a bed by slopes along and across, a straight
# way, a taper that runs out, a sweep round the tailstock, an axis in two planes.

procedure "small-lathe" {
  title    = "A small lathe, by its shapes"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Read what pictures are made of."
  decision = "guarded"
}

instrument "level" {
  kind          = "precision level"
  resolution    = um(5) / m(1)
  error         = um(5) / m(1)
  repeatability = um(1) / m(1)
}
instrument "lever" {
  kind          = "lever indicator"
  resolution    = um(0.5)
  error         = um(1)
  repeatability = um(0.3)
  turn          = mm(0.2)
}

step "bed_step" {
  title = "Level the bed"
  reading "slope" {
    ask      = "Level along the front way, ${each.station}"
    unit     = "um/m"
    along    = stations(mm(0), mm(1000), 6)
    with     = instrument.level
    positive = "tailstock end high"
    range    = [um(-500) / m(1), um(500) / m(1)]
  }
  reading "across" {
    ask      = "Level across, ${each.station}"
    unit     = "um/m"
    along    = stations(mm(0), mm(1200), 7)
    with     = instrument.level
    positive = "front way low"
    range    = [um(-500) / m(1), um(500) / m(1)]
  }
  result "height" {
    title    = "Height of the front way"
    value    = level_profile(reading.slope, mm(200))
    unit     = "um"
    positive = "high"
  }
  result "straight" {
    title    = "Front way out of straight"
    value    = straightness(result.height, "end_points")
    unit     = "um"
    positive = "never below nothing"
  }
  result "twist" {
    title    = "Twist of the bed"
    value    = twist(reading.across)
    unit     = "um/m"
    positive = "never below nothing"
  }
  gate "straight_held" {
    title     = "The front way is straight"
    of        = result.straight
    at_most   = um(20)
    if_failed = [reject]
  }
  gate "twist_held" {
    title     = "The bed is not twisted"
    of        = result.twist
    at_most   = um(40) / m(1)
    if_failed = [correction.feet, reject]
  }
}

step "way_step" {
  title = "Read the cross way"
  reading "way" {
    ask      = "Cross way at ${each.station}"
    unit     = "um"
    along    = stations(mm(0), mm(160), 9)
    with     = instrument.lever
    positive = "high"
    range    = [um(-100), um(100)]
  }
  result "bent" {
    title    = "Cross way, least zone"
    value    = straightness(reading.way, "minimum_zone")
    unit     = "um"
    positive = "never below nothing"
  }
  gate "way_held" {
    title     = "The cross way is straight"
    of        = result.bent
    at_most   = um(6)
    if_failed = [reject]
  }
  result "above" {
    title    = "Each place above the mean"
    value    = reading.way - mean(reading.way)
    unit     = "um"
    positive = "high"
  }
  gate "even_held" {
    title     = "No place of the cross way stands out"
    of        = result.above
    within    = plus_minus(um(4))
    if_failed = [reject]
  }
}

step "spindle_step" {
  title = "Read the taper"
  reading "bore" {
    ask      = "Taper at ${each.angle}"
    unit     = "um"
    around   = 12
    with     = instrument.lever
    positive = "bore nearer to the needle"
    range    = [um(-100), um(100)]
  }
  result "runout" {
    title    = "Run-out of the taper"
    value    = runout(reading.bore)
    unit     = "um"
    positive = "never below nothing"
  }
  gate "runout_held" {
    title     = "The taper runs true"
    of        = result.runout
    at_most   = um(10)
    if_failed = [reject]
  }
  result "form" {
    title    = "Taper against its mean"
    value    = reading.bore - mean(reading.bore)
    unit     = "um"
    positive = "outward"
  }
  gate "form_held" {
    title     = "No side of the taper stands out"
    of        = result.form
    within    = plus_minus(um(6))
    if_failed = [reject]
  }
}

step "tailstock_step" {
  title = "Sweep the tailstock"
  reading "sweep" {
    each "place" { of = ["top", "front", "bottom", "rear"] }
    ask      = "Sweep, ${each.place}"
    unit     = "um"
    with     = instrument.lever
    positive = "surface nearer to the axis"
    range    = [um(-100), um(100)]
  }
  result "swing" {
    title    = "Range of the sweep"
    value    = spread(reading.sweep)
    unit     = "um"
    positive = "never below nothing"
  }
  gate "swing_held" {
    title     = "The tailstock is on the axis"
    of        = result.swing
    at_most   = um(30)
    if_failed = [reject]
  }
}

step "axis_step" {
  title = "Read the bar"
  reading "front" {
    each "station" { of = ["near", "far"] }
    ask      = "Front, ${each.station}"
    unit     = "um"
    with     = instrument.lever
    positive = "bar towards the operator"
    range    = [um(-300), um(300)]
  }
  reading "top" {
    each "station" { of = ["near", "far"] }
    ask      = "Top, ${each.station}"
    unit     = "um"
    with     = instrument.lever
    positive = "bar up"
    range    = [um(-300), um(300)]
  }
  result "level_plane" {
    title    = "Axis in the level plane"
    value    = reading.front.far - reading.front.near
    unit     = "um"
    positive = "free end towards the operator"
  }
  result "upright" {
    title    = "Axis in the upright plane"
    value    = reading.top.far - reading.top.near
    unit     = "um"
    positive = "free end high"
  }
  gate "level_plane_held" {
    title     = "Axis to the operator's side, never away"
    of        = result.level_plane
    within    = between(um(0), um(12))
    if_failed = [reject]
  }
  gate "upright_held" {
    title     = "Axis rises, never falls"
    of        = result.upright
    within    = between(um(0), um(16))
    if_failed = [reject]
  }
}

correction "feet" {
  title    = "Raise the front foot at the tailstock end"
  do       = ["A quarter turn, then let it settle."]
  disturbs = [gate.straight_held]
  attempts = 5
}

signoff "fitter" { title = "Carried out by" }
