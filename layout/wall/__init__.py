"""A face's outline in; out come its sides, the area that siding covers, its border and corners."""
