"""Whom a site lets in and what each device covers: enrolment links, scopes of hand-outs."""
