"""What makes a phone's package of the program: spec, Java, manifest hook, and the staging."""
