"""The register a club kept before: its rows as proposed finds, a message a row."""
