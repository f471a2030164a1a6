"""Parts lists, charts and alignment tables drawn with exact truth, to measure their readers."""
