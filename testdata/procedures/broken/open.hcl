# A quote that is not closed swallows the rest of the file as far as the
# parser goes, but is told once. The parser reads the mark below as text too.
procedure "open" {
  title    = "Signs that are wrong"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of signs."
}

given "length" {
  ask   = "Length ### "Cannot be read as HCL"
  unit  = "mm"
}
