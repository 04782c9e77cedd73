"""Contracts of the whole house: sizes, imports, the pages a newcomer reads, the wheel."""
