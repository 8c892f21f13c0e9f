"""Printed labels. Labels and a sheet in, a PDF or a picture of the first page out; the rest is its pages."""
