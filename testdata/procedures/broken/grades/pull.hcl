# Two tables that have no grade in common.
procedure "pull" { ### "Tables without a common grade"
  title    = "Pull"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of grades."
}
table "lathe" {
  grades = ["normal", "precision"]
  row "pull" {
    values = { normal = um(20), precision = um(10) }
    source = "shop rule"
  }
}
table "plate" {
  grades = ["one", "two"]
  row "flat" {
    values = { one = um(5), two = um(10) }
    source = "shop rule"
  }
}
step "read" {
  title = "Read"
  reading "top" {
    ask   = "Top: height"
    unit  = "um"
    range = [um(-100), um(100)]
  }
  gate "pulled" {
    title     = "Pulled a little"
    of        = reading.top
    at_most   = table.lathe.pull + table.plate.flat
    if_failed = [reject]
  }
}
signoff "fitter" { title = "Carried out by" }
