"""Tests of the kinds of fault: what is said of each, and its examples."""
