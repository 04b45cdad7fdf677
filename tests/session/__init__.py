"""The session and what the screens are made of, without a screen."""
