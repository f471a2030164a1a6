"""Draws the sample library: the shelf of an invented repair room, and its ground truth.

Run `python -m sample_library.drawing` from the project's root. Wants Pillow, numpy, img2pdf
and pikepdf, Debian's fonts (fonts-urw-base35, fonts-routed-gothic, fonts-courier-prime,
fonts-dejavu) and djvulibre-bin for the one DjVu file. Nothing else in
the project needs these. Every maker, model, publisher and person in it is invented; the tube
types are the industry's registered ones. The same seed and fonts give the same pages.
"""
