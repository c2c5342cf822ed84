package android.os;

import java.io.File;
import java.io.FileNotFoundException;
import java.io.FileOutputStream;
import java.io.IOException;

/** An open file, as another program has it in its hand. */
public class ParcelFileDescriptor {
    public static final int MODE_READ_ONLY = 0x10000000;
    public static final int MODE_WRITE_ONLY = 0x20000000;
    private final File file;
    private final int mode;

    private ParcelFileDescriptor(File file, int mode) {
        this.file = file;
        this.mode = mode;
    }

    public static int parseMode(String mode) {
        switch (mode) {
            case "r":
                return MODE_READ_ONLY;
            case "w":
                return MODE_WRITE_ONLY;
            default:
                throw new IllegalArgumentException(mode);
        }
    }

    public static ParcelFileDescriptor open(File file, int mode) throws FileNotFoundException {
        return new ParcelFileDescriptor(file, mode);
    }

    public void write(byte[] data) throws IOException {
        if (mode != MODE_WRITE_ONLY) {
            throw new IOException("opened for reading");
        }
        try (FileOutputStream out = new FileOutputStream(file)) {
            out.write(data);
        }
    }
}
