"""Serve a finished record, and keep what crews enter: one data file beside the record, never in it.

Needs the extra `server`; only `cardgen serve` imports what that brings.
"""
