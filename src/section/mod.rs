//! Sections of the profiles, and a screen of their loads: advice, never approval.
