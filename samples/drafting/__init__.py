"""The draft of the wardrobe group's slim trousers, from a published body size to drawings."""
