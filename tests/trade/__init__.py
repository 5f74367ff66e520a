"""Tests of the facts of the trade."""
