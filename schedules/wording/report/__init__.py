"""Words about a week: two weeks side by side, as rows of text for every door alike."""
