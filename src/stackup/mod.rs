//! Tolerance stack-up: what laser and brake tolerances do to the joints.
