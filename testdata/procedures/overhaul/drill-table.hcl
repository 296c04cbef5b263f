procedure "drill-table" {
  title    = "The table lies flat to the base"
  machine  = "bench drill"
  revision = "1"
  purpose  = "Read the table at its front against its back, and pack it."
  decision = "simple"
}

step "read" {
  title = "Read the table"
  reading "front" {
    ask      = "Front of the table against its back"
    unit     = "um"
    with     = instrument.dial
    positive = "front high"
    range    = [um(-500), um(500)]
  }
  result "tilt" {
    title    = "Tilt of the table"
    value    = reading.front
    unit     = "um"
    positive = "front high"
  }
  gate "flat" {
    title     = "The table lies flat"
    of        = result.tilt
    within    = plus_minus(um(30))
    source    = "shop rule"
    if_failed = [correction.pack, reject]
  }
}

correction "pack" {
  title    = "Pack the table"
  do       = ["Slacken the clamp, pack the table under its bracket, clamp it."]
  disturbs = [accepted["drill-spindle"]]
  attempts = 3
}

signoff "fitter" { title = "Carried out by" }
