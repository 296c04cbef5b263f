person "ines" {
  name  = "Ines Brandt"
  roles = ["fitter"]
}

person "tom" {
  name  = "Tom Acker"
  roles = ["inspector"]
}
