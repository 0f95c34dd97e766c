"""The checks by name, in the order in which a reader would want to hear of trouble."""

from kitcheck import (blank, boxes, clash, dxf, folding, joints, lists, pdf, refold, schema,
                      sheets, site, solid, stackup, svg, together, wall)

CHECKS = {module.__name__.rpartition(".")[2]: module.check
          for module in (schema, folding, blank, joints, clash, wall, together, boxes, solid, dxf,
                         refold, svg, pdf, lists, sheets, site, stackup)}
