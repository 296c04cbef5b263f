package editor_test

// The files of a small shop, for the tests.
const (
	sharedFile = `caution "sleeves" {
  text   = "Rotating parts: sleeves tight, nothing near."
  hazard = "rotating"
  source = "shop rule"
}

instrument "dial" {
  kind              = "dial indicator"
  resolution        = um(1)
  error             = um(2)
  repeatability     = um(1)
  repeatability_dof = 30
}

table "limits" {
  grades = ["normal", "fine"]
  row "square" {
    title  = "Table square to the spindle, in 200 mm"
    values = { normal = um(40), fine = um(20) }
    source = "shop rule, estimate"
  }
}
`

	tableFile = `# The table of a drill, square to its spindle.
procedure "drill-table" {
  title    = "Table square: µm, Ø and 🙂"
  machine  = "bench drill"
  revision = "1"
  purpose  = "Swing a dial over the table and shim its bracket."
}

given "sweep" {
  ask   = "Sweep: diameter of the circle"
  unit  = "mm"
  range = [mm(50), mm(400)]
}

step "swing" {
  title   = "Swing the dial over the table"
  spindle = "stopped"
  caution = [caution.sleeves]
  each "side" { of = ["front", "rear"] }

  reading "height" {
    ask      = "Table, ${each.side}: height"
    unit     = "um"
    with     = instrument.dial
    range    = [um(-500), um(500)]
    positive = "table higher"
  }
}

step "judge" {
  title = "Judge the tilt"

  result "tilt" {
    title    = "Tilt, front to rear, in 200 mm"
    value    = (reading.height.front - reading.height.rear) * mm(200) / given.sweep
    unit     = "um"
    positive = "front higher"
  }
  gate "square" {
    title     = "The table is square to the spindle"
    of        = result.tilt
    within    = plus_minus(table.limits.square)
    if_failed = [correction.shim, reject]
  }
}

correction "shim" {
  title    = "Shim the bracket"
  amount   = result.tilt * given.sweep / mm(200)
  unit     = "um"
  positive = "under the rear"
  negative = "under the front"
  do       = ["Loosen, shim, tighten."]
  moved {
    ask  = "Shim put in, plus under the rear"
    with = instrument.dial
  }
  should_change {
    result = result.tilt
    by     = -amount * mm(200) / given.sweep
  }
}

signoff "fitter" { title = "Carried out by" }

rehearsal "tilted" {
  grade = "normal"
  hidden { tilt_angle = um(300) / m(1) }
  noise { height = um(2) }
  answer {
    sweep  = mm(200)
    height = each.side == "front" ? hidden.tilt_angle * given.sweep : um(0)
  }
  reacts "shim" { tilt_angle = hidden.tilt_angle - moved / given.sweep }
  ends {
    outcome = "accepted"
    rounds  = { shim = at_most(3) }
  }
}
`

	spindleFile = `procedure "drill-spindle" {
  title    = "Spindle of the drill"
  machine  = "bench drill"
  revision = "1"
  purpose  = "See whether the spindle runs true over a table that is square."
}

given "tilt" {
  ask   = "Tilt of the table, front higher is plus"
  unit  = "um"
  from  = accepted["drill-table"].result.tilt
  range = [um(-500), um(500)]
}

step "read" {
  title   = "Read the nose"
  spindle = "stopped"
  caution = [caution.sleeves]

  reading "out" {
    ask      = "Nose: total reading over a turn"
    unit     = "um"
    with     = instrument.dial
    range    = [um(0), um(500)]
    positive = "nose nearer to the tip"
  }
  gate "true" {
    title     = "The nose runs true"
    of        = reading.out + abs(given.tilt)
    at_most   = um(50)
    source    = "shop rule, estimate"
    if_failed = [reject]
    upstream  = [accepted["drill-table"]]
  }
}

signoff "fitter" { title = "Carried out by" }
`

	planFile = `overhaul "drill" {
  title    = "The whole drill"
  machine  = "bench drill"
  revision = "1"
}

task "table" { procedure = "drill-table" }
task "spindle" {
  procedure = "drill-spindle"
  after     = [task.table]
  when      = abs(accepted["drill-table"].result.tilt) < um(100)
}
`
)

// shop are the files by their names.
func shop() map[string]string {
	return map[string]string{
		"shared.hcl": sharedFile, "drill-table.hcl": tableFile, "drill-spindle.hcl": spindleFile, "drill.hcl": planFile,
	}
}
