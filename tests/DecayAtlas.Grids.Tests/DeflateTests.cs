using System.IO.Compression;
using DecayAtlas.Grids.GeoTiff;

namespace DecayAtlas.Grids.Tests;

/// <summary>Deflated blocks of all kinds of content and levels, and bytes that are none: a block comes out whole or is refused.</summary>
public sealed class DeflateTests
{
    [Fact]
    public void What_zlib_packs_comes_back_whole_and_in_any_first_part()
    {
        Random random = new(12);
        for (int trial = 0; trial < 300; trial++)
        {
            byte[] content = Content(random, trial);
            byte[] packed = Pack(content, (CompressionLevel)(trial % 4));
            Assert.Equal(content, Unpack(packed, content.Length));
            int part = random.Next(content.Length + 1);
            Assert.Equal(content[..part], Unpack(packed, part));
            Assert.Null(Unpack(packed, content.Length + 1));
        }
    }

    [Fact]
    public void Invented_bytes_never_do_more_than_be_refused()
    {
        Random random = new(14);
        for (int trial = 0; trial < 20_000; trial++)
        {
            byte[] bytes = new byte[random.Next(2, 400)];
            random.NextBytes(bytes);
            (bytes[0], bytes[1]) = (0x78, 0x9C);
            if (bytes.Length > 2)
            {
                bytes[2] = (byte)((bytes[2] & 0xF8) | random.Next(8)); // every kind of block
            }

            Unpack(bytes, random.Next(0, 2000));
        }
    }

    private static byte[] Content(Random random, int trial)
    {
        int length = trial % 10 == 0 ? random.Next(1, 20) : random.Next(20, 70_000);
        byte[] content = new byte[length];
        switch (trial % 6)
        {
            case 0: random.NextBytes(content); break;
            case 1: Array.Fill(content, (byte)trial); break;
            case 2: Fill(i => (byte)(i % 2 == 0 ? random.Next(16) : i / 5000)); break; // rough ground in 16 bits
            case 3: Fill(i => (byte)"decay of litter in soil "[random.Next(24)]); break;
            case 4: Fill(i => (byte)(i % (3 + trial % 11))); break; // short distances
            default: Fill(i => random.Next(50) == 0 ? (byte)random.Next(256) : (byte)0); break;
        }

        return content;

        void Fill(Func<int, byte> valueOf)
        {
            for (int i = 0; i < content.Length; i++)
            {
                content[i] = valueOf(i);
            }
        }
    }

    private static byte[] Pack(byte[] content, CompressionLevel level)
    {
        using MemoryStream packed = new();
        using (ZLibStream deflate = new(packed, level, leaveOpen: true))
        {
            deflate.Write(content);
        }

        return packed.ToArray();
    }

    private static byte[]? Unpack(byte[] packed, int length)
    {
        byte[] target = new byte[length];
        return TiffCodec.TryDecode(8, packed, packed.Length, target) ? target : null;
    }
}
