procedure "drill-spindle" {
  title    = "The spindle stands square to the table"
  machine  = "bench drill"
  revision = "1"
  purpose  = "Swing an indicator round the spindle over the table."
  decision = "simple"
}

step "swing" {
  title   = "Swing the indicator by hand"
  spindle = "stopped"
  reading "front" {
    ask      = "Table, front, against its back"
    unit     = "um"
    with     = instrument.dial
    positive = "front high"
    range    = [um(-500), um(500)]
  }
  result "lean" {
    title    = "Lean of the spindle over its swing"
    value    = reading.front
    unit     = "um"
    positive = "front high"
  }
  gate "square" {
    title     = "The spindle stands square"
    of        = result.lean
    within    = plus_minus(um(40))
    source    = "shop rule"
    if_failed = [correction.column, reject]
  }
}

correction "column" {
  title    = "Scrape the foot of the column"
  do       = ["Lift the column off, scrape its foot on the high side, bolt it down."]
  attempts = 3
}

signoff "fitter" { title = "Carried out by" }
