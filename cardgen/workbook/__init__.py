"""Spreadsheets in and out: a job as a workbook, and a workbook or a list of stations as a job."""
