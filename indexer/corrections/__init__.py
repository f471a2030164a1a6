"""What the person says against what was read: applied, kept in force, and what deserves a look."""
