using System.Buffers;
using System.Text.Unicode;

namespace DecayAtlas.Contributions.Packages;

/// <summary>Checks bytes that arrive in pieces to be strict UTF-8 with paired quotes, and finds the first place where they are
/// not.</summary>
internal sealed class Utf8Scan
{
    private readonly char[] _characters = new char[1 << 12];
    private readonly byte[] _carried = new byte[4];
    private int _carriedCount;
    private long _offset;
    private int _line = 1;
    private long _quotes;
    private byte? _first;
    private byte _bad;
    private bool _failed;

    public void Append(ReadOnlySpan<byte> bytes)
    {
        if (_failed || bytes.IsEmpty)
            return;
        _first ??= bytes[0];
        // At most three bytes of a character can be left over from the piece before.
        while (_carriedCount > 0 && !bytes.IsEmpty && !_failed)
        {
            _carried[_carriedCount++] = bytes[0];
            bytes = bytes[1..];
            _carriedCount -= Decode(_carried.AsSpan(0, _carriedCount));
        }
        int read = Decode(bytes);
        if (_failed)
            return;
        bytes = bytes[read..];
        if (!bytes.IsEmpty)
        {
            bytes.CopyTo(_carried);
            _carriedCount = bytes.Length;
        }
    }

    /// <summary>The finding about the whole text, or null when it is well-formed.</summary>
    public Finding? Close(string file)
    {
        if (!_failed && _carriedCount > 0)
            Fail(_carried[0]);
        if (_failed)
        {
            string found = _first is 0xFF or 0xFE || _bad == 0
                ? "UTF-16 or binary data"
                : Invariant($"the byte 0x{_bad:X2} at byte {_offset + 1} of the file, which is not UTF-8");
            return new Finding(FindingCode.EncodingNotUtf8, file, _line, null, found, "text encoded as UTF-8",
                "save it again as 'CSV UTF-8' or with the encoding UTF-8");
        }
        bool isTable = !file.EndsWith(".json", StringComparison.OrdinalIgnoreCase);
        return isTable && _quotes % 2 != 0 ? CsvFault.OddQuotes(file) : null;
    }

    // Checks as much as possible; gives the number of whole bytes used.
    private int Decode(ReadOnlySpan<byte> bytes)
    {
        int used = 0;
        while (used < bytes.Length)
        {
            OperationStatus status =
                Utf8.ToUtf16(bytes[used..], _characters, out int read, out int written, replaceInvalidSequences: false,
                    isFinalBlock: false);
            int zero = _characters.AsSpan(0, written).IndexOf('\0');
            ReadOnlySpan<byte> good = bytes.Slice(used, read);
            if (zero >= 0)
                good = good[..good.IndexOf((byte)0)];
            _line += good.Count((byte)'\n');
            _quotes += good.Count((byte)'"');
            _offset += good.Length;
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
        _failed = true;
        _bad = culprit;
    }
}
