"""How much a file may ask for. Files come from strangers: what is larger ends in a message, not in a full memory.

Every limit lies far above real use, which stands beside it.
"""

# The file
FILE = 2_000_000  # bytes; a table of 500 sizes and 60 columns takes 300,000
VALUES = 200_000  # values in a file; the largest table allowed, 2000 by 60, has 120,000
DEPTH = 20  # groups and lists inside one another; definitions have 8
KEY = 100  # characters of a key, as messages repeat it
DIGITS = 40  # characters of a number
NUMBER = 1e12  # of any number in a file, as the messages say
CHAIN = 20  # files that refine, or are based on, one another in turn; shops have 3
PROBLEMS = 1_000  # reported at once

# The formula
FORMULA = 500  # characters
LEVELS, TERMS = 50, 300  # of one formula; the longest shipped one has 30 terms
POWER = 16.0  # greatest exponent

# The family
NAME = 60  # characters of a family's key or a symbol: keys name files and folders
LABEL = 31  # characters of a size's label, as of a block name
PARTS = 250_000  # sizes times lengths; 500 sizes in 300 lengths are 150,000
WORK = 200_000_000  # terms of all formulas times parts, a minute's work; 150,000 parts of 60 features need 90 million

# The part
EXTENT = 100_000.0  # of any figure, mm or inches
LEAST = 1e-6  # figures closer to 0 are 0: rounding in a formula, not a size
KNOTS = 200  # of one outline
COUNT = 400  # of holes, balls, slots round an axis; a slewing ring has 150
PIECES = 1_000  # solids and voids of a part; a wheel of 100 counterbored holes has 202
STARTS = 60  # of a thread
TURNS = 10_000  # of a thread; 3 m of M3 rod has 6,000

# The drawing
RADIUS = 3e7  # of an arc, mm or inches; a flatter one is a line, as numbers in DXF end somewhere
LINES = 500  # across one hatched face, or along one thread: more are spread wider
SCALES = (1e-4, 1e3)  # of plotting; ISO 5455 goes from 1:10000 to 50:1
SHORTEST = 0.1  # mm on paper, the period of a line type: a shorter one would drown a drawing in dashes
