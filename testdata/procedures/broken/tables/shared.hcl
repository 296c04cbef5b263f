# Shared definitions with mistakes of their own.
table "grades" {
  grades = ["fine", "coarse", "fine"] ### "Name is taken"
  row "bow" { ### "Something is missing"
    values = { fine = um(5) }
    source = "shop rule"
  }
  row "sag" {
    values = { fine = um(5), coarse = deg(1) } ### "Wrong dimension for its place"
    source = "shop rule"
  }
  row "sag" { ### "Name is taken"
    values = { fine = um(5), coarse = um(1) }
    source = "shop rule"
  }
  row "wind" {
    values = { fine = um(5), coars = um(1) } ### "Unknown name"
  }
}
table "grades" { ### "Name is taken"
  grades = ["fine"]
  row "x" { values = { fine = um(1) } }
}
caution "hot" {
  text   = "Hot."
  hazard = "heat" ### "Not one of the words"
}
signoff "no" {} ### "Unknown block"
