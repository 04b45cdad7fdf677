"""The domain of Rackround: from a room file to a plan, a round, a ledger and what they show.

Data flows one way: room file, problem, plan, round, ledger, then missed servings and flags. Nothing here knows of a
screen, and nothing here reads the clock: the moment is always passed in.
"""
