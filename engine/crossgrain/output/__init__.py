"""What is made for people to read: pages, later sheets and exchange files.

Everything here takes values of the model and returns text or bytes. Nothing here reads a drawing, writes a file or asks
for the time.
"""
