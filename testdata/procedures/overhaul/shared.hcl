# What the procedures of the drill share.

instrument "dial" {
  kind          = "dial indicator"
  resolution    = um(1)
  error         = um(2)
  repeatability = um(1)
}
