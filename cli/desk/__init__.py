"""What a browser asks in; out come the screens of the desk: measure, plan, hand out, hang."""
