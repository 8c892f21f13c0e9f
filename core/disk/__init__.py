"""The data folder, and the space on its disk."""
