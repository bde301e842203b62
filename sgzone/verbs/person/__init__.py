"""What a person sets once and is not asked again; what the shell completes as they type."""
