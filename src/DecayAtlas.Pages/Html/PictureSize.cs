using System.Buffers.Binary;

namespace DecayAtlas.Pages.Html;

/// <summary>Width and height of a picture as attributes, so that the page keeps its place free and does not jump when it comes.</summary>
internal static class PictureSize
{
    /// <summary>Attributes for a PNG file; none for anything else.</summary>
    /// <remarks>PNG (ISO/IEC 15948): eight bytes of signature, then the header chunk with width and height at bytes 16 and 20.</remarks>
    public static Markup Of(string path)
    {
        Span<byte> head = stackalloc byte[24];
        using FileStream file = File.OpenRead(path);
        bool isPng = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false) == head.Length && head[1..4].SequenceEqual("PNG"u8);
        (int width, int height) = (BinaryPrimitives.ReadInt32BigEndian(head[16..]), BinaryPrimitives.ReadInt32BigEndian(head[20..]));
        return Markup.If(isPng, $" width=\"{width}\" height=\"{height}\"");
    }
}
