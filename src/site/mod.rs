//! The opening on site: what is cut, what comes out, and what stands near.
