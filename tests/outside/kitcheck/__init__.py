"""Checks of a written kit folder, from its files alone."""
