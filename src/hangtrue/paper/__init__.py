"""The papers: drawings, the packet and files, written from what a plan holds; nothing is computed here."""
