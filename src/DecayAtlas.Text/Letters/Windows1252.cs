using System.Text;

namespace DecayAtlas.Text.Letters;

/// <summary>The one-byte letters of western Windows (the WHATWG Encoding Standard's index of windows-1252), by themselves: the framework
/// has them among two hundred others, which are half a megabyte more for a browser to fetch.</summary>
public sealed class Windows1252 : Encoding
{
    // 80 to 9F; all other bytes are the letters of their numbers
    private const string High = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008DŽ\u008F\u0090‘’“”•–—˜™š›œ\u009DžŸ";

    public override int GetByteCount(char[] chars, int index, int count) => count;

    public override int GetBytes(char[] chars, int charIndex, int charCount, byte[] bytes, int byteIndex)
    {
        for (int i = 0; i < charCount; i++)
            bytes[byteIndex + i] = ByteOf(chars[charIndex + i]);
        return charCount;
    }

    public override int GetCharCount(byte[] bytes, int index, int count) => count;

    public override int GetChars(byte[] bytes, int byteIndex, int byteCount, char[] chars, int charIndex)
    {
        for (int i = 0; i < byteCount; i++)
        {
            byte value = bytes[byteIndex + i];
            chars[charIndex + i] = value is >= 0x80 and < 0xA0 ? High[value - 0x80] : (char)value;
        }
        return byteCount;
    }

    public override int GetMaxByteCount(int charCount) => charCount;

    public override int GetMaxCharCount(int byteCount) => byteCount;

    private static byte ByteOf(char letter) => letter is < '\u0080' or (>= '\u00A0' and <= '\u00FF') ? (byte)letter
        : High.IndexOf(letter, StringComparison.Ordinal) is >= 0 and int at ? (byte)(0x80 + at) : (byte)'?';

    /// <summary>Gives it to libraries that ask the framework for it by number.</summary>
    public sealed class Provider : EncodingProvider
    {
        public static Provider Instance { get; } = new();

        public override Encoding? GetEncoding(int codepage) => codepage == 1252 ? new Windows1252() : null;

        public override Encoding? GetEncoding(string name) =>
            string.Equals(name, "windows-1252", StringComparison.OrdinalIgnoreCase) ? new Windows1252() : null;
    }
}
