"""The face: Kivy widgets that show what rounds and book answer, and pass taps on."""
