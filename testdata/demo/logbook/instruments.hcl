instrument "M-7" {
  kind          = "outside micrometer"
  resolution    = um(1)
  error         = um(4)
  repeatability = um(1)
  turn          = mm(0.5)
  certificate   = "K-0418"
  calibrated    = "2026-02-16"
  calibrated_by = "Halm Gauges"
  due           = "2028-02-16"
  serial        = "30712"

  history {
    day  = "2025-12-01"
    what = "anvils lapped, set again"
    by   = "Halm Gauges"
  }
}

instrument "I-3" {
  kind       = "dial indicator"
  range      = [mm(0), mm(10)]
  resolution = um(10)
  error      = um(13)
  turn       = mm(1)
  due        = "2027-09-01"
}
