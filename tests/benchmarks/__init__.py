"""Measurements run by hand; nothing here is a test."""
