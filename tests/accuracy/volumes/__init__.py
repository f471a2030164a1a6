"""Invented bound volumes with exact truth: what stands on which page, and whose it is.

`conventions` holds how each split's volumes name, head and word things; `matter` makes the blocks
of one set; `binding` lays them on pages; `shelf` turns them into PDF files or into readings with
a reader's errors.
"""
