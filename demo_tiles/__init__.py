"""The demo studio: an invented studio, its photos and how they were made. Everything here is invented."""
