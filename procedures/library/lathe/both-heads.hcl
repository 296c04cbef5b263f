# The shortest overhaul there is: both heads of a lathe brought into line. The
# headstock comes first, because the test cut of the tailstock is turned on its
# axis; work on the headstock spoils the tailstock's result.

overhaul "both-heads" {
  title    = "Both heads of the lathe in line"
  machine  = "centre lathe"
  revision = "1"
}

task "headstock" { procedure = "headstock-align" }
task "tailstock" {
  procedure = "tailstock-by-test-cut"
  after     = [task.headstock]
}
