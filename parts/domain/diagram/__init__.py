"""The works' diagram of a locomotive, drawn from its own structure as an SVG, with a description in words.

`drawings` is the way in: one function for each place where a drawing is shown. What happens inside, in order:
`arrangement` reads the wheels, `proportions` says how large things usually are, `layout` where they stand; `wheels`,
`trucks`, `frames`, `boiler`, `cab_and_tanks`, `motion`, `valve_gear` and `tender` draw the parts with the `pen`, in mm;
`shapes` puts them behind one another. `parts_table` says which subassembly is which part, `states` how a part looks for
its counts, `paint` puts it on paper, and `desk`, `small`, `boxes` and `legend` make pictures of it.

To draw one more part: a row in parts/data/diagram/parts.csv and its codes in subassemblies.csv, a function that gives a
`Drawn`, and its place in `shapes`.
"""
