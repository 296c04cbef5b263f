# A post whose height is read to one and a half micrometres at best, and wanted
# much finer: corrections whose effect is lost in the doubt, or nearly.

procedure "fine" {
  title    = "Set a post to its height, finer than it can be read"
  machine  = "any"
  revision = "1"
  purpose  = "Read how high the post stands and shift it."
  decision = "guarded"
}

instrument "feeler" {
  kind              = "lever indicator"
  resolution        = um(0.1)
  error             = um(0)
  zero              = um(0)
  repeatability     = um(1.5)
  repeatability_dof = 1000
  turn              = mm(1)
}
instrument "dial" {
  kind          = "dial indicator"
  resolution    = um(0.1)
  error         = um(0)
  zero          = um(0)
  repeatability = um(0.2)
  turn          = mm(1)
}

step "look" {
  title = "Read the post"
  reading "off" {
    ask      = "Post: reading"
    unit     = "um"
    with     = instrument.feeler
    positive = "high"
    range    = [um(-500), um(500)]
  }
  result "height" {
    title    = "Post above its place"
    value    = reading.off
    unit     = "um"
    positive = "high"
  }
  gate "low" {
    title     = "The post stands at its height"
    of        = result.height
    within    = plus_minus(um(1))
    source    = "shop rule"
    if_failed = [correction.shift, correction.tap, reject]
  }
}

correction "shift" {
  title    = "Shift the post"
  amount   = -result.height
  unit     = "um"
  positive = "up"
  negative = "down"
  do       = ["Slacken, shift, clamp, read."]
  attempts = 6
  moved {
    ask  = "Post: movement after clamping, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.height
    by     = amount
  }
}

correction "tap" {
  title    = "Tap the post"
  amount   = -result.height
  unit     = "um"
  positive = "up"
  negative = "down"
  do       = ["Tap it with a mallet."]
  attempts = 3
  should_change {
    result = result.height
    by     = amount
  }
}

signoff "fitter" { title = "Carried out by" }
