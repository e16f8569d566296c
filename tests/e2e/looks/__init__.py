"""How the screens look and what a thumb reaches: measured on every screen by test_every_screen.py, switched here."""
