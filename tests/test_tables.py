import pytest

from tests.tables import for_each


@for_each("a, b", [(1, 1), (1, 2), (2, 3)])
def alike(a, b):
    assert a == b


def test_rows_that_fail_are_named_and_fail_the_test():
    with pytest.raises(AssertionError) as failed:
        alike()
    assert failed.value.__notes__ == ["2 of 3 rows failed: [(1, 2), (2, 3)]"]


def test_so_does_one_in_which_something_was_not_refused():
    @for_each("text", ["x", "1"])
    def refused(text):
        with pytest.raises(ValueError, match="invalid"):
            int(text)

    with pytest.raises(pytest.fail.Exception):
        refused()


def test_a_mistake_in_a_row_is_told_as_it_is():
    @for_each(("a", "b"), [(1, 0)])
    def divided(a, b):
        a / b

    with pytest.raises(ZeroDivisionError) as mistake:
        divided()
    assert mistake.value.__notes__ == ["in the row (1, 0)"]


def test_all_rows_of_all_tables_are_tried():
    tried = []

    @for_each("a", [1, pytest.param(2, id="two")])
    @for_each("b", "xy")
    def noted(a, b, more):
        tried.append((a, b, more))

    noted(more=0)
    assert tried == [(1, "x", 0), (1, "y", 0), (2, "x", 0), (2, "y", 0)]


def test_a_table_without_rows_is_no_test():
    with pytest.raises(AssertionError, match="proves nothing"):
        for_each("a", [])
