from email import message_from_bytes, policy

from django.core.mail import EmailMessage, get_connection


def test_each_mail_kept_is_a_file_of_its_own_that_reads_as_a_message(tmp_path):
    folder = get_connection("quoting.platform.mail_folder.EmailBackend", file_path=tmp_path)
    mails = [EmailMessage(f"Order O-000{n}", "Bögen: 3", "a@firm.example", ["b@mill.example"]) for n in (1, 2)]
    mails[0].attach("order.pdf", b"%PDF-", "application/pdf")
    assert folder.send_messages(mails) == 2
    assert {path.suffix for path in tmp_path.iterdir()} == {".eml"}
    read = [message_from_bytes(path.read_bytes(), policy=policy.default) for path in tmp_path.iterdir()]
    first = next(message for message in read if message["Subject"] == "Order O-0001")
    assert first["To"] == "b@mill.example"
    assert first.get_body().get_content().strip() == "Bögen: 3"
    assert [part.get_filename() for part in first.iter_attachments()] == ["order.pdf"]
    assert len({message["Message-ID"] for message in read}) == 2
