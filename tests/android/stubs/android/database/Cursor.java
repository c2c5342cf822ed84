package android.database;

import java.io.Closeable;

public interface Cursor extends Closeable {
    boolean moveToFirst();

    boolean isNull(int column);

    String getString(int column);

    @Override
    void close();
}
