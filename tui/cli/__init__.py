"""The command line. Nothing here imports the dashboard unless the dashboard is opened."""
