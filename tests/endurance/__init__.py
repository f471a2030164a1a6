"""Holding up: hostile files, pulled plugs, full disks, odd input. `python -m tests.endurance`."""
