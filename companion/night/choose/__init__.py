"""What is worth it tonight: candidates, filters, the ranked list, ready-made rounds."""
