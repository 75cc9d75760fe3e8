"""The papers: drawings, packet and files, written from what a plan holds; computes nothing."""
