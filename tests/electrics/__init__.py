"""Tests of stage 4."""
