"""The dashboard in a browser: who may ask, what can be asked, and the dashboard behind a page."""
