# The vice's ways, before its jaw is set straight. Everything here is made up.
procedure "vice-base" {
  title    = "Vice: its ways along the table"
  machine  = "milling machine"
  revision = "1"
  purpose  = "Find a chip or a burr under the vice by an indicator on its ways."
  decision = "simple"
}

step "read" {
  title   = "Read the ways of the vice"
  spindle = "stopped"

  reading "rise" {
    ask      = "Right end of the ways against the left"
    unit     = "um"
    with     = instrument.lever
    positive = "right end high"
    range    = [um(-500), um(500)]
  }
  gate "flat" {
    title     = "The vice lies flat"
    of        = reading.rise
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [correction.lift, reject]
  }
}

correction "lift" {
  title    = "Lift the vice, wipe, stone, and bolt it down again"
  do       = ["Lift the vice with a helper. Wipe table and base, stone the burrs, set it down, bolt it."]
  disturbs = [accepted["vice-jaw"]]
  attempts = 3
}

signoff "fitter" { title = "Set by" }

rehearsal "a chip under it" {
  hidden { rise = um(60) }
  noise { rise = um(1) }
  answer { rise = hidden.rise }
  reacts "lift" { rise = hidden.rise / 10 }
  ends {
    outcome = "accepted"
    rounds  = { lift = 1 }
  }
}
