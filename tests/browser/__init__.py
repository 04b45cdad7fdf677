"""The dashboard in a real browser. Run by `make test-browser`, which needs Chromium and ChromeDriver."""
