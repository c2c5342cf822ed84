"""What the device can do, an interface each, in Android and desktop forms."""
