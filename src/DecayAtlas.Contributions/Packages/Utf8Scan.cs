using System.Buffers;
using System.Text.Unicode;

namespace DecayAtlas.Contributions.Packages;

/// <summary>Checks bytes that arrive in pieces to be strict UTF-8 with paired quotes, and finds the first place where they are not.</summary>
internal sealed class Utf8Scan
{
    private readonly char[] characters = new char[1 << 12];
    private readonly byte[] carried = new byte[4];
    private int carriedCount;
    private long offset;
    private int line = 1;
    private long quotes;
    private byte? first;
    private byte bad;
    private bool failed;

    public void Append(ReadOnlySpan<byte> bytes)
    {
        if (failed || bytes.IsEmpty)
            return;
        first ??= bytes[0];
        // At most three bytes of a character can be left over from the piece before.
        while (carriedCount > 0 && !bytes.IsEmpty && !failed)
        {
            carried[carriedCount++] = bytes[0];
            bytes = bytes[1..];
            carriedCount -= Decode(carried.AsSpan(0, carriedCount));
        }
        int read = Decode(bytes);
        if (failed)
            return;
        bytes = bytes[read..];
        if (!bytes.IsEmpty)
        {
            bytes.CopyTo(carried);
            carriedCount = bytes.Length;
        }
    }

    /// <summary>The finding about the whole text, or null when it is well-formed.</summary>
    public Finding? Close(string file)
    {
        if (!failed && carriedCount > 0)
            Fail(carried[0]);
        if (failed)
        {
            string found = first is 0xFF or 0xFE || bad == 0
                ? "UTF-16 or binary data"
                : FormattableString.Invariant($"the byte 0x{bad:X2} at byte {offset + 1} of the file, which is not UTF-8");
            return new Finding(FindingCode.EncodingNotUtf8, file, line, null, found, "text encoded as UTF-8",
                "save it again as 'CSV UTF-8' or with the encoding UTF-8");
        }
        bool isTable = !file.EndsWith(".json", StringComparison.OrdinalIgnoreCase);
        return isTable && quotes % 2 != 0
            ? new Finding(FindingCode.CsvBroken, file, null, null, "an odd number of quotation marks, so that one text never ends",
                "every quoted text closed", "close the text, and write a quotation mark inside a text twice")
            : null;
    }

    /// <summary>Checks as much as possible; gives the number of whole bytes used.</summary>
    private int Decode(ReadOnlySpan<byte> bytes)
    {
        int used = 0;
        while (used < bytes.Length)
        {
            OperationStatus status = Utf8.ToUtf16(bytes[used..], characters, out int read, out int written, replaceInvalidSequences: false, isFinalBlock: false);
            int zero = characters.AsSpan(0, written).IndexOf('\0');
            ReadOnlySpan<byte> good = bytes.Slice(used, read);
            if (zero >= 0)
                good = good[..good.IndexOf((byte)0)];
            line += good.Count((byte)'\n');
            quotes += good.Count((byte)'"');
            offset += good.Length;
            used += good.Length;
            if (zero >= 0 || status == OperationStatus.InvalidData)
            {
                Fail(bytes[used]);
                break;
            }
            if (status == OperationStatus.NeedMoreData)
                break;
        }
        return used;
    }

    private void Fail(byte culprit)
    {
        failed = true;
        bad = culprit;
    }
}
