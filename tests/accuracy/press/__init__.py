"""The press: draws service pages with every word's place known, then wears them.

Two splits differ in seeds, typefaces and wear: "look" to look at and tune on, "report" only to
report. Everything printed is invented; tube types are the industry's registered ones. Wants
Debian's fonts (fonts-urw-base35, fonts-liberation, fonts-freefont-ttf, fonts-routed-gothic,
fonts-osifont, fonts-courier-prime, fonts-gnutypewriter, fonts-dejavu); faces that aren't
installed are left out.
"""
