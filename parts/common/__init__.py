"""What the rooms share: fields, small forms, finding the thing of an address, what a page tells of a piece or a job."""
