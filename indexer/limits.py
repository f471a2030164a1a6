"""Every bound on input, each with its reason. Nothing else in the package invents a limit."""

# Files
MAX_FILE_BYTES = 4_000_000_000  # a bound annual at 600 dpi grey stays under 2 GB
MAX_FILE_PAGES = 20_000  # the largest bound sets run to about 2,000 pages
MAX_NOTE_BYTES = 5_000_000  # typed notes; larger "text" files are logs or dumps
MAX_LABEL_CHARS = 60  # a printed page number; "A-12/3 (revised)" is long
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

# Pages read on a cluster
CLUSTER_BLOCK_BYTES = 4_000_000  # what travels in one piece; a loose sheet is under 2 MB
CLUSTER_KEPT_BYTES = 20_000_000_000  # files kept on a worker; the largest file fits several times
CLUSTER_WAIT_S = 60.0  # for a first worker, or for a scheduler that was lost
CLUSTER_BLOCK_TIMEOUT_S = 120.0  # for one block to arrive, over the slowest line worth using
CLUSTER_TRIES = 10  # of one page, before a cluster that loses its workers is given up

# Questions
MAX_QUERY_CHARS = 2_000  # a label typed out in full is under 300
MAX_QUERY_TUBES = 60  # the largest radio of the period has about 40
DEFAULT_ANSWERS = 20
MAX_RANGE_SHOWN = 60  # a printed range longer than this is shown by its ends

# Stores
LOCK_TIMEOUT_S = 10.0  # how long a second writer waits before it says "busy"
MAX_NUMBER = 2**63 - 1  # of a job or an item; SQLite holds no larger one

# Corrections and typed lists
MAX_CORRECTION_CHARS = 400  # one value given by a person: a maker, a code, a printed range
MAX_CORRECTION_VALUES = 200  # models of one entry; the longest printed list seen has 60
MAX_CORRECTED_PAGES = 5_000  # pages of one entry; more is a volume that was never cut up
MAX_LIST_ROWS = 50_000  # sets on one typed list
MAX_LIST_CELL_CHARS = 1_000

# What a person types
MAX_TYPED_CHARS = 100_000  # one note; the longest bench log seen in print runs to 20,000
MAX_TITLE_CHARS = 200  # it must fit on one line of a list, and at the foot of a sheet
MAX_SPARES = 100_000  # tubes of one type in one place; a wholesaler's shelf holds thousands
MAX_JOB_PHOTOS = 200  # two go on a sheet of the packet
MAX_CSV_BYTES = 20_000_000  # a drawer of 100,000 lines is about 4 MB

# Printing
MAX_TILES = 24  # sheets for one fold-out; a 60 x 84 cm drawing takes 12 of A4

# Showing pages
SHOW_TIMEOUT_S = 30.0  # a person waits for a picture; the slowest fold-out took 3 s
MAX_SHOWN_PIXELS = 25_000_000  # one picture in one piece; larger ones are fetched in tiles
MAX_PHOTO_BYTES = 25_000_000  # one photo from a phone is under 12 MB
MAX_PHOTO_PIXELS = 110_000_000  # the largest phone cameras give 108 million
MAX_PHOTOS = 6  # label, stamp and tubes of one set
MAX_FORM_BYTES = 200_000  # a long note is under 20 kB
MAX_CACHE_BYTES = 500_000_000  # pictures kept on disk; a tile is about 40 kB
