"""Looking back: what was missed (`missed`), and what was too much or too little (`flags`)."""
