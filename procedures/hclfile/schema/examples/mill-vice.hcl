# A vice from the shelf to work. Everything here is made up.
overhaul "mill-vice" {
  title    = "A vice on the mill, from the shelf to work"
  machine  = "milling machine"
  revision = "1"
}

task "base" { procedure = "vice-base" }

task "jaw" {
  procedure = "vice-jaw"
  after     = [task.base]
  renew     = days(180)
}

rehearsal "knocked, with a chip under it" {
  seeds = 5
  hidden {
    chip = um(60)
    skew = um(120)
  }
  procedure "vice-base" {
    hidden { rise = hidden.chip }
    reacts "lift" { skew = hidden.skew + um(30) }
  }
  procedure "vice-jaw" {
    like = "set over by a fair knock"
    hidden { skew = hidden.skew }
  }
  ends {
    outcome = "accepted"
    runs    = { base = 1, jaw = 1 }
  }
}
