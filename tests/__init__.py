"""Tests of cardgen; each folder is named for the stage it tests."""
