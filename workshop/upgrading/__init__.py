"""Upgrades: which version made a register, and bringing it up to this one."""
