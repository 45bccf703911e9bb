"""Arrays in, arrays out: colour, photo, card, calibration, zones, shifts, search. No files, no SQL, no Qt."""
