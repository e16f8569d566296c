"""What papers say, in English and Spanish, and how they write numbers."""
