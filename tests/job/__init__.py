"""Tests of stage 2."""
