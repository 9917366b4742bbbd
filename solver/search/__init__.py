"""search"""
