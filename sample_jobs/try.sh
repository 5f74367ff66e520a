#!/bin/sh
# Set up cardgen in this checkout, then print the tags of a sample job.
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh

prepare_venv .venv .
exec .venv/bin/cardgen print sample_jobs/larkspur.yaml --out larkspur-cards
