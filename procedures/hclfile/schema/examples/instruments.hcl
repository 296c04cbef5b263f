# instruments.hcl of a shop. Everything here is made up.
instrument "I-4" {
  kind          = "lever indicator"
  range         = [mm(0), mm(0.2)]
  resolution    = um(2)
  error         = um(5)
  repeatability = um(1)
  turn          = mm(0.2)
  certificate   = "K-2026-118"
  calibrated    = "2026-03-02"
  calibrated_by = "the county gauge room"
  due           = "2027-03-02"

  history {
    day  = "2025-11-03"
    what = "fell from the column; stem straightened"
    by   = "Anna Brook"
  }
}
