"""Tests of the patient's page."""
