//! Folded parts, the container and tools as convex solids in the site; how deep two share space.
