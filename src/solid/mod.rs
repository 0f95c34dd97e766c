//! Folded parts, the container and tools as convex solids in the site, and how deep two of them share space.
