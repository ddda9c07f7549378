"""Calculations written out for the calculation pages."""
