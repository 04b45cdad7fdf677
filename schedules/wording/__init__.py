"""Codes and values put into plain English, for every door alike."""
