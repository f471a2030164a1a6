"""Every bound on input, each with its reason. Nothing else in the package invents a limit."""

# Files
MAX_FILE_BYTES = 4_000_000_000  # a bound annual at 600 dpi grey stays under 2 GB
MAX_FILE_PAGES = 20_000  # the largest bound sets run to about 2,000 pages
MAX_NOTE_BYTES = 5_000_000  # typed notes; larger "text" files are logs or dumps
MAX_FOLDER_DEPTH = 40  # deeper trees are loops through links or mounts

# Pictures
MAX_PAGE_PIXELS = 250_000_000  # a 60 x 40 cm fold-out at 600 dpi has 134 million
MAX_SIDE_PX = 40_000  # a long strip at 600 dpi; beyond it the header lies
RENDER_DPI = 300  # what the readers are tuned to
RENDER_MAX_SIDE_PX = 6_000  # fold-outs are read at this size, shown at full size
RENDER_MIN_SIDE_PX = 1_600  # small renders of odd page sizes lose the lettering

# One page's work
PAGE_TIMEOUT_S = 180.0  # the slowest honest page seen took 25 s
PAGE_MEMORY_BYTES = 6_000_000_000  # address space of one worker
MAX_PAGE_WORDS = 20_000  # a dense index page holds about 3,000

# Questions
MAX_QUERY_CHARS = 2_000  # a label typed out in full is under 300
MAX_QUERY_TUBES = 60  # the largest radio of the period has about 40
DEFAULT_ANSWERS = 20
MAX_RANGE_SHOWN = 60  # a printed range longer than this is shown by its ends

# Stores
LOCK_TIMEOUT_S = 10.0  # how long a second writer waits before it says "busy"

# Printing
MAX_TILES = 24  # sheets for one fold-out; a 60 x 84 cm drawing takes 12 of A4
