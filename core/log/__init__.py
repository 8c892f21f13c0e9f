"""What every writer shares: one transaction, one event, and the receipt of what a phone had kept."""
