"""The checks by name, in the order in which a reader would want to hear of trouble."""

from kitcheck import (blank, clash, dxf, folding, joints, lists, pdf, refold, schema, sheets, solid,
                      svg, wall)

CHECKS = {"schema": schema.check, "folding": folding.check, "blank": blank.check,
          "joints": joints.check, "clash": clash.check, "wall": wall.check, "solid": solid.check,
          "dxf": dxf.check, "refold": refold.check, "svg": svg.check, "pdf": pdf.check,
          "lists": lists.check, "sheets": sheets.check}
