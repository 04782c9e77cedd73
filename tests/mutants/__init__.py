"""Single changes to the modules that decide, written by hand, and which of them no test notices."""
