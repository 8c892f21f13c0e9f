"""Before the first locomotive is entered."""


def test_next_leads_home_where_there_is_no_locomotive(client, people):
    client.force_login(people.fitter)
    assert client.get("/next/").url == "/"


def test_an_empty_works_is_told_how_to_begin(client, people):
    client.force_login(people.manager)
    assert "/locomotives/new/" in client.get("/").content.decode()
    client.force_login(people.trustee)
    assert "/locomotives/new/" not in client.get("/").content.decode()
