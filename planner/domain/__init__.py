"""The words of the domain: frozen types; no files, no clock, no solver."""
