# A plan: tasks that wait for one another, names, forms.
overhaul "plan" {
  title    = "A plan that cannot begin"
  machine  = "centre lathe"
  revision = 1 ### "Written in another form than wanted"
}
task "a" {
  procedure = "gates"
  after     = [task.b]
}
task "b" { ### "Goes round in a circle"
  procedure = "gates"
  after     = [task.a, task.b] ### "Goes round in a circle"
}
task "c" {
  procedure = "nowhere" ### "Procedure is not at hand"
  after     = [task.d] ### "Unknown name"
  when      = machine.swing > deg(3) ### "Dimensions do not agree"
  renew     = mm(3) ### "Wrong dimension for its place"
}
task "e" {
  procedure = "gates"
  delay     = days(3) ### "Needs something that is not there"
  when      = given.length > mm(3) ### "Unknown name"
}
step "f" { ### "Unknown block"
  title = "No place here"
}
