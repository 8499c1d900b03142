"""What happened in one job: events, their wire format and the state they fold into."""
