# people.hcl of a shop. Everything here is made up.
person "anna" {
  name  = "Anna Brook"
  roles = ["fitter"]
}

person "tomas" {
  name  = "Tomas Reed"
  roles = ["inspector"]
  key   = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIDZJ2Bb3mI3Z1WZ7cG8qGk3m1hS2v3nY9N0Qm3kV5p6R tomas"
}
