"""program"""
