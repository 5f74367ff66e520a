"""Tests of stage 3."""
