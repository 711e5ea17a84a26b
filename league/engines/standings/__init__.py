"""Standings."""
