"""Open forms: readings as hOCR and ALTO, pages as searchable PDF, lists as CSV and JSON lines."""
