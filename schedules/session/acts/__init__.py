"""What acts are made of: `writing.py` writes one act and says what it came to; the others are acts by subject."""
