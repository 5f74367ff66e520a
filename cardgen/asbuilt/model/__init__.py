"""What stages 1 to 5 found out of a job, in the trade's words: plain values, kept as JSON.

```
AsBuilt -- controllers -- terminals -- what is landed on each
        |- conductors --- stretches: from where to where it is what
        |- boxes -------- joints, what passes, what is capped, spares
        |  `- valves ---- circuit, colors at both ends, what a meter must show
        |- spares ------- stretches that metal leaves free, how far they reach
        `- cables, sensors, connectors, changes
```
No sentence, no language and no geometry is in it.  All that is printed, drawn, published or
compared is taken from here.  A field added later has a default: files that are published lack it.
What follows from fields is a property and not kept; so it holds for older files, too.
"""
