"""Faults the server must survive: kills, cut lines, full disks, racing writers."""
