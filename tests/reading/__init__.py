"""Tests of stage 1."""
