using System.Text;

namespace DecayAtlas.Pipeline.Mails;

/// <summary>A mail without an address, ready to be looked at and sent.</summary>
/// <param name="Name">Its file name without an ending.</param>
/// <param name="Language">BCP 47 code.</param>
/// <param name="Body">Paragraphs and lists, plain text, lines ended by \n.</param>
internal sealed record MailDraft(string Name, MailKind Kind, string Language, string Subject, string Body)
{
    /// <summary>Longest line, bytes: RFC 5322, 2.1.1 allows 998 without its end.</summary>
    private const int LongestLine = 900;

    /// <summary>Bytes of text in an encoded word, which may have 75 letters in all (RFC 2047, section 2).</summary>
    private const int EncodedBytes = 42;

    /// <summary>The draft as mail programs open it (RFC 5322); those that know X-Unsent let it be edited and sent.</summary>
    public string ToEml() => string.Join("\r\n",
    [
        $"Subject: {Header(Subject)}", "X-Unsent: 1", "MIME-Version: 1.0", "Content-Type: text/plain; charset=utf-8",
        "Content-Transfer-Encoding: 8bit", $"Content-Language: {Language}", "", .. Body.Split('\n').SelectMany(Folded),
    ]);

    /// <summary>The draft as text to be copied.</summary>
    public string ToText() => $"{Subject}\n\n{Body}";

    private static string Header(string text)
    {
        if (text.All(c => c is >= ' ' and <= '~') && text.Length <= 70)
            return text;
        List<string> words = [];
        StringBuilder word = new();
        foreach (Rune rune in text.EnumerateRunes())
        {
            if (Encoding.UTF8.GetByteCount(word.ToString()) + rune.Utf8SequenceLength > EncodedBytes)
                Close();
            word.Append(rune.ToString());
        }

        Close();
        return string.Join("\r\n ", words);

        void Close()
        {
            words.Add($"=?utf-8?B?{Convert.ToBase64String(Encoding.UTF8.GetBytes(word.ToString()))}?=");
            word.Clear();
        }
    }

    private static IEnumerable<string> Folded(string line)
    {
        StringBuilder now = new();
        bool begins = true;
        foreach (string word in line.Split(' '))
        {
            if (now.Length > 0 && Encoding.UTF8.GetByteCount(now.ToString()) + Encoding.UTF8.GetByteCount(word) >= LongestLine)
            {
                yield return now.ToString();
                now.Clear();
                begins = true;
            }

            now.Append(begins ? "" : " ").Append(word);
            begins = false;
        }

        yield return now.ToString();
    }
}

/// <summary>What a mail is about.</summary>
internal enum MailKind
{
    /// <summary>In the atlas, with no result yet.</summary>
    Accepted,

    /// <summary>In the atlas with results, a page and a class sheet.</summary>
    Thanks,

    /// <summary>In the atlas as history, since a higher revision counts.</summary>
    Late,

    ToMend,

    /// <summary>It waits for long.</summary>
    Reminder,
}
