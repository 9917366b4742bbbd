"""options"""
