"""Commands about the dashboard in a browser: serving it, and the passcodes of keepers."""
